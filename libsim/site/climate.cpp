#include <lowspot/site/climate.hpp>

#include <algorithm>

#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>

namespace lowspot::site {
namespace {
constexpr double wet_table = 0.0762; // m: 3 in over the tight layer
}

const catalog::ClimateMonth& month_named(const TableReader& table, std::string_view at,
                                         const std::string& name) {
  const std::string key(at);
  const auto& climate = table.context().catalog.climate;
  const std::string wanted = lower(trim(name));
  std::vector<std::string> months;
  for (const catalog::ClimateMonth& row : climate) {
    const std::string month = lower(row.month);
    if (month == wanted || (wanted.size() == 3 && month.substr(0, 3) == wanted)) return row;
    months.push_back(row.month);
  }
  if (wanted.find_first_not_of("0123456789. ") == std::string::npos && !climate.empty())
    table.fail(key, "\"" + name + "\"", "the name of a month: " + in_a_row(months),
               "Write the name instead of a number, such as \"" + climate[climate.size() / 2].month + "\".");
  refuse_unknown(table, key, name, months, "a month of the climate table");
  return climate.front(); // not reached: refuse_unknown throws
}

std::string per_day(double speed, const TableReader& table) {
  return table.context().site.units == "m" ? rounded(speed * 1000 * 86400) + " mm/d"
                                           : rounded(speed / 0.0254 * 86400) + " in/d";
}

void warn_of_evaporation(const TableReader& table, double reference_et) {
  constexpr double hot_dry_day = 0.6 * 0.0254 / 86400; // m/s
  if (reference_et > hot_dry_day)
    table.warn("reference_et",
               per_day(reference_et, table) + " is more than a hot dry day draws, so beds dry too fast");
}

StartMoisture start_named(const std::string& word) {
  if (word == "drained") return StartMoisture::drained;
  if (word == "wet") return StartMoisture::wet;
  return word == "dry" ? StartMoisture::dry : StartMoisture::moist;
}

double start_content(const Soil& soil, StartMoisture start) {
  switch (start) {
  case StartMoisture::moist: // a quarter of the way from field capacity to saturation: a day or so after rain
    return soil.field_capacity + 0.25 * (soil.porosity - soil.field_capacity);
  case StartMoisture::dry: // half of what plants can use is gone
    return 0.5 * (soil.wilting_point + soil.field_capacity);
  default:
    return soil.field_capacity;
  }
}

double start_perched(const Soil& soil, StartMoisture start) {
  return start == StartMoisture::wet ? std::min(wet_table, soil.depth.likely) : 0;
}

} // namespace lowspot::site
