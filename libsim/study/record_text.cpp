#include <lowspot/study/record_text.hpp>

#include <cmath>
#include <limits>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include <lowspot/results/target.hpp>

namespace lowspot::study {
namespace {

using Json = nlohmann::json;

// A field is written and read by the same list, so that none is forgotten on one side.
struct Writer {
  Json json = Json::object();
  void operator()(const char* key, double value) {
    json[key] = std::isfinite(value) ? Json(value) : Json(nullptr);
  }
  void operator()(const char* key, bool value) { json[key] = value; }
  void operator()(const char* key, const std::string& value) { json[key] = value; }
};
struct Reader {
  const Json& json;
  void operator()(const char* key, double& value) const {
    const Json& found = json.at(key);
    value = found.is_null() ? std::numeric_limits<double>::quiet_NaN() : found.get<double>();
  }
  void operator()(const char* key, bool& value) const { value = json.at(key).get<bool>(); }
  void operator()(const char* key, std::string& value) const { value = json.at(key).get<std::string>(); }
};

template <class Visit, class Area>
void visit_area(Visit&& visit, Area& area) {
  visit("name", area.name), visit("depth", area.max_depth), visit("volume", area.peak_volume);
  visit("standing", area.standing_hours_after_rain), visit("area", area.standing_area);
  visit("soggy_in_all", area.soggy_hours), visit("clears", area.clear_within_target);
  visit("judged", area.judged), visit("still", area.still_standing);
  visit("soggy", area.soggy_hours_after_rain), visit("still_soggy", area.still_soggy);
  visit("perched", area.perched_max), visit("slab", area.under_slab);
}
template <class Visit, class Flow>
void visit_flow(Visit&& visit, Flow& flow) {
  visit("name", flow.name), visit("peak", flow.peak_flow), visit("volume", flow.volume);
}
template <class Visit, class Bed>
void visit_bed(Visit&& visit, Bed& bed) {
  visit("name", bed.name), visit("soggy", bed.soggy_hours);
  visit("dry_days", bed.days_below_half_available_water), visit("lowest", bed.lowest_available_fraction);
  visit("spell", bed.longest_soggy_hours), visit("still_soggy", bed.still_soggy);
  visit("spell_open", bed.spell_open);
}
template <class Visit, class Books>
void visit_books(Visit&& visit, Books& books) {
  visit("rain", books.rain), visit("inflow", books.inflow), visit("edges", books.left_over_edges);
  visit("underground", books.left_underground), visit("drains", books.left_by_drains);
  visit("deep", books.deep_leakage), visit("evaporation", books.evapotranspiration);
  visit("infiltrated", books.infiltrated), visit("start", books.stored_start);
  visit("end", books.stored_end), visit("closure", books.closure);
}
template <class Visit, class Drain>
void visit_drain(Visit&& visit, Drain& drain) {
  visit("name", drain.name), visit("peak", drain.peak_flow), visit("capacity", drain.full_flow_capacity);
  visit("surcharged", drain.surcharged), visit("out", drain.volume_out), visit("limit", drain.limited_by);
}

template <class Items, class Each>
Json list(const Items& items, Each each) {
  Json all = Json::array();
  for (const auto& item : items) {
    Writer writer;
    each(writer, item);
    all.push_back(std::move(writer.json));
  }
  return all;
}

template <class Items, class Each>
void read_list(const Json& all, Items& items, Each each) {
  for (const Json& one : all) {
    items.emplace_back();
    each(Reader{one}, items.back());
  }
}

const auto areas = [](auto&& visit, auto& item) { visit_area(visit, item); };
const auto flows = [](auto&& visit, auto& item) { visit_flow(visit, item); };
const auto beds = [](auto&& visit, auto& item) { visit_bed(visit, item); };

} // namespace

std::string record_text(const results::DesignRecord& record, double end_of_rain) {
  Writer books;
  visit_books(books, record.ledger);
  Json drains = Json::array();
  for (const results::DrainRecord& drain : record.drains) {
    Writer writer;
    visit_drain(writer, drain);
    writer.json["hours"] = Json::array();
    for (const auto& [member, hours] : drain.limit_hours) writer.json["hours"].push_back({member, hours});
    drains.push_back(std::move(writer.json));
  }
  const double spot = results::wettest_spot_hours(record, end_of_rain);
  const Json json = {{"name", record.name},
                     {"books", std::move(books.json)},
                     {"areas", list(record.areas, areas)},
                     {"lines", list(record.lines, flows)},
                     {"edges", list(record.edges, flows)},
                     {"drains", std::move(drains)},
                     {"beds", list(record.beds, beds)},
                     {"season", list(record.season_beds, beds)},
                     {"wettest_spot", spot},
                     {"still_standing", record.still_standing},
                     {"end", record.time.empty() ? 0.0 : record.time.back()},
                     {"steps", record.steps},
                     {"seconds", record.wall_seconds}};
  return json.dump(-1, ' ', true, Json::error_handler_t::replace);
}

results::DesignRecord record_from(const std::string& text) {
  results::DesignRecord record;
  try {
    const Json json = Json::parse(text);
    record.name = json.at("name").get<std::string>();
    visit_books(Reader{json.at("books")}, record.ledger);
    read_list(json.at("areas"), record.areas, areas);
    read_list(json.at("lines"), record.lines, flows);
    read_list(json.at("edges"), record.edges, flows);
    read_list(json.at("beds"), record.beds, beds);
    read_list(json.at("season"), record.season_beds, beds);
    for (const Json& one : json.at("drains")) {
      record.drains.emplace_back();
      visit_drain(Reader{one}, record.drains.back());
      for (const Json& hours : one.at("hours"))
        record.drains.back().limit_hours.emplace_back(hours.at(0).get<std::string>(),
                                                      hours.at(1).get<double>());
    }
    record.standing_hours = {json.at("wettest_spot").get<double>()};
    record.still_standing = json.at("still_standing").get<bool>();
    record.time = {json.at("end").get<double>()};
    record.steps = json.at("steps").get<long>();
    record.wall_seconds = json.at("seconds").get<double>();
  } catch (const Json::exception& error) {
    throw std::runtime_error(std::string("not the figures of a run: ") + error.what());
  }
  return record;
}

} // namespace lowspot::study
