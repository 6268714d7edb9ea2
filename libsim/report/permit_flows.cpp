#include <lowspot/report/permit_flows.hpp>

#include <algorithm>

#include <lowspot/report/html.hpp>
#include <lowspot/report/volume_figure.hpp>
#include <lowspot/results/side_flows.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_flows = 8, most_outlets = 3;
constexpr double worth_saying = 0.05; // more water over a line than before, as a share

using Flows = std::vector<results::FlowRecord>;

// A row or a sentence, and the water [m3] by which it is the more worth reading.
struct Row {
  double water = 0;
  std::vector<std::string> cells;
};
struct Alert {
  double water = 0;
  std::string sentence;
};

// The most water first.
template <class Items>
void worst_first(Items& items) {
  std::stable_sort(items.begin(), items.end(),
                   [](const auto& a, const auto& b) { return a.water > b.water; });
}

// Rows as they come; where there are too many, those with the most water, and how many more there are.
void add_rows(Table& table, std::vector<Row> rows, std::size_t most) {
  Table some{"", table.head, {}, {}};
  if (rows.size() > most) worst_first(rows);
  for (Row& row : rows) some.rows.push_back(std::move(row.cells));
  keep_rows(some, most);
  table.rows.insert(table.rows.end(), some.rows.begin(), some.rows.end());
}

void add_flows(std::vector<Row>& rows, std::vector<Alert>& more, const SheetScene& scene, const char* kind,
               Flows results::DesignRecord::*member) {
  const Units& units = scene.units();
  const Flows& now = scene.as_is.*member;
  for (std::size_t k = 0; k < now.size(); ++k) {
    double added = 0;
    std::vector<std::string> row = {kind + short_name(now[k].name, 24), figure(now[k].peak_flow, units.flow),
                                    volume_figure(now[k].volume, units.volume)};
    if (scene.built != nullptr && k < (scene.built->*member).size()) {
      const results::FlowRecord& then = (scene.built->*member)[k];
      row.push_back(figure(then.peak_flow, units.flow));
      row.push_back(volume_figure(then.volume, units.volume));
      const double least = 1e-3 * scene.as_is.ledger.rain; // less is not worth a word
      added = then.volume - now[k].volume;
      if (then.volume > (1 + worth_saying) * now[k].volume + least)
        more.push_back({added, kind + short_name(now[k].name, 24) + " gets " + amount(added, units.volume) +
                                   " more than now."});
    }
    rows.push_back({added, std::move(row)});
  }
}

// Sides with outlets: what a neighbour gets is the water over the edge and that of the outlets.
void add_sums(Table& table, std::vector<Alert>& more, const SheetScene& scene) {
  const Units& units = scene.units();
  const double cell = scene.comparison().grid.cell;
  const auto now = results::side_flows(scene.site(), nullptr, scene.as_is, cell);
  const auto then = results::side_flows(scene.site(), scene.design, *scene.built, cell);
  for (std::size_t k = 0; k < std::min(now.size(), then.size()); ++k) {
    if (then[k].piped_volume <= 0) continue;
    const std::string name = then[k].side + " with its outlets";
    table.rows.push_back({name, figure(now[k].peak(), units.flow),
                          volume_figure(now[k].volume(), units.volume), figure(then[k].peak(), units.flow),
                          volume_figure(then[k].volume(), units.volume)});
    if (then[k].volume() > (1 + worth_saying) * now[k].volume() + 1e-3 * scene.as_is.ledger.rain)
      more.push_back(
          {then[k].volume() - now[k].volume(),
           name + " gets " + amount(then[k].volume() - now[k].volume(), units.volume) + " more than now."});
  }
}

bool failed_side(const results::CheckRecord& check) {
  return check.id == "neighbour_increase" && check.outcome == results::CheckOutcome::fail;
}

void add_failed(std::vector<std::string>& more, const results::DesignRecord& built) {
  for (const results::CheckRecord& check : built.checks)
    if (failed_side(check))
      more.push_back("Check FAILS: " + check.name + ": " + check.found +
                     (check.limit.empty() ? "" : "; limit " + check.limit) + ".");
}

double peak_of_outlet(const results::DesignRecord& record, const std::string& outlet) {
  double peak = 0;
  for (const results::Series& series : record.series)
    if (series.name == "drain:" + outlet + "_m3_per_s")
      for (const double value : series.values) peak = std::max(peak, value);
  return peak;
}

// Whether the books count the water of this outlet as having left the yard there. side_flows() decides it of
// all outlets together; only this one is given a flow to be found again.
bool leaves_yard(const SheetScene& scene, const site::Outlet& outlet) {
  if (outlet.kind == "submerged" || (outlet.kind == "pump" && !outlet.discharge)) return true;
  results::DesignRecord marked;
  marked.ledger = scene.built->ledger;
  marked.edges = scene.built->edges;
  for (const site::Outlet& each : scene.design->outlets)
    marked.outlets.push_back(
        {each.name, each.name == outlet.name ? 1.0 : 0.0, results::outlet_volume(*scene.built, each.name)});
  const auto sides = results::side_flows(scene.site(), scene.design, marked, scene.comparison().grid.cell);
  return std::any_of(sides.begin(), sides.end(), [](const auto& side) { return side.piped_peak > 0; });
}

// What becomes of water that crosses no lot line where it comes out.
std::string stays_words(const site::Outlet& outlet, const std::string& water) {
  if (outlet.kind == "dry well") return " lets " + water + " into the ground, over no lot line.";
  return " ends in the yard: its " + water + " cross no lot line there, and are counted where they leave.";
}

} // namespace

std::string permit_flows(const SheetScene& scene) {
  const Units& units = scene.units();
  Table table{"Water over each lot line: most at once (" + units.flow.name + ") and in all (" +
                  units.volume.name + ")",
              {"where", "now, most", "in all"},
              {},
              {}};
  if (scene.built != nullptr) table.head.insert(table.head.end(), {"proposed, most", "in all"});
  std::vector<Row> flows, outlets;
  std::vector<Alert> alerts; // of all lines, whatever the page has room for
  std::vector<std::string> more, notes;
  add_flows(flows, alerts, scene, "edge: ", &results::DesignRecord::edges);
  add_flows(flows, alerts, scene, "across ", &results::DesignRecord::lines);
  add_rows(table, std::move(flows), most_flows);
  if (scene.design != nullptr)
    for (const site::Outlet& outlet : scene.design->outlets) {
      const double volume = results::outlet_volume(*scene.built, outlet.name);
      if (leaves_yard(scene, outlet))
        outlets.push_back({volume,
                           {"outlet: " + short_name(outlet.name, 24), "0", "0",
                            figure(peak_of_outlet(*scene.built, outlet.name), units.flow),
                            volume_figure(volume, units.volume)}});
      else if (volume > 0)
        notes.push_back(short_name(outlet.name, 24) + stays_words(outlet, amount(volume, units.volume, 3)));
    }
  if (outlets.size() > 1)
    notes.push_back("All outlets together: " + amount(scene.built->ledger.left_by_drains, units.volume, 3) +
                    ".");
  add_rows(table, std::move(outlets), most_outlets);
  if (scene.design != nullptr) add_sums(table, alerts, scene), add_failed(more, *scene.built);
  worst_first(alerts);
  for (Alert& alert : alerts) more.push_back(std::move(alert.sentence));
  more.insert(more.end(), notes.begin(), notes.end());
  std::string html = table_html(table);
  if (!more.empty()) html += list(at_most(more, 6));
  return html;
}

std::size_t failed_sides(const SheetScene& scene) {
  if (scene.built == nullptr) return 0;
  return static_cast<std::size_t>(
      std::count_if(scene.built->checks.begin(), scene.built->checks.end(), failed_side));
}

} // namespace lowspot::report
