#include <lowspot/results/check_json.hpp>

#include <lowspot/results/json_tools.hpp>

namespace lowspot::results {

nlohmann::ordered_json checks_json(const std::vector<CheckRecord>& list) {
  Json all = Json::array();
  for (const CheckRecord& record : list)
    all.push_back({{"id", record.id},
                   {"name", record.name},
                   {"about", record.about},
                   {"outcome", outcome_name(record.outcome)},
                   {"found", record.found},
                   {"found_si", finite(record.found_value)},
                   {"limit", record.limit},
                   {"limit_si", finite(record.limit_value)},
                   {"source", record.source},
                   {"mark", record.mark},
                   {"missing", record.missing},
                   {"of_works", record.of_works}});
  return all;
}

} // namespace lowspot::results
