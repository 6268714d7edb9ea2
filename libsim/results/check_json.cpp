#include <lowspot/results/check_json.hpp>

#include <cmath>

namespace lowspot::results {

nlohmann::ordered_json checks_json(const std::vector<CheckRecord>& list) {
  const auto number = [](double value) {
    return std::isfinite(value) ? nlohmann::ordered_json(value) : nlohmann::ordered_json(nullptr);
  };
  nlohmann::ordered_json all = nlohmann::ordered_json::array();
  for (const CheckRecord& record : list)
    all.push_back({{"id", record.id},
                   {"name", record.name},
                   {"about", record.about},
                   {"outcome", outcome_name(record.outcome)},
                   {"found", record.found},
                   {"found_si", number(record.found_value)},
                   {"limit", record.limit},
                   {"limit_si", number(record.limit_value)},
                   {"source", record.source},
                   {"mark", record.mark},
                   {"missing", record.missing},
                   {"of_works", record.of_works}});
  return all;
}

} // namespace lowspot::results
