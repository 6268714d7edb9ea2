#include <lowspot/report/permit_flows.hpp>

#include <algorithm>

#include <lowspot/report/html.hpp>
#include <lowspot/results/side_flows.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_flows = 8, most_outlets = 3;
constexpr double worth_saying = 0.05; // more water over a line than before, as a share

using Flows = std::vector<results::FlowRecord>;

void add_flows(Table& table, std::vector<std::string>& more, const SheetScene& scene, const char* kind,
               Flows results::DesignRecord::*member) {
  const Units& units = scene.units();
  const Flows& now = scene.as_is.*member;
  for (std::size_t k = 0; k < now.size() && table.rows.size() < most_flows; ++k) {
    std::vector<std::string> row = {kind + short_name(now[k].name, 24), figure(now[k].peak_flow, units.flow),
                                    figure(now[k].volume, units.volume, 3)};
    if (scene.built != nullptr && k < (scene.built->*member).size()) {
      const results::FlowRecord& then = (scene.built->*member)[k];
      row.push_back(figure(then.peak_flow, units.flow));
      row.push_back(figure(then.volume, units.volume, 3));
      const double least = 1e-3 * scene.as_is.ledger.rain; // less is not worth a word
      if (then.volume > (1 + worth_saying) * now[k].volume + least)
        more.push_back(kind + short_name(now[k].name, 24) + " gets " +
                       amount(then.volume - now[k].volume, units.volume) + " more than now.");
    }
    table.rows.push_back(std::move(row));
  }
}

// Sides with outlets: what a neighbour gets is the water over the edge and that of the outlets.
void add_sums(Table& table, std::vector<std::string>& more, const SheetScene& scene) {
  const Units& units = scene.units();
  const double cell = scene.comparison().grid.cell;
  const auto now = results::side_flows(scene.site(), nullptr, scene.as_is, cell);
  const auto then = results::side_flows(scene.site(), scene.design, *scene.built, cell);
  for (std::size_t k = 0; k < std::min(now.size(), then.size()); ++k) {
    if (then[k].piped_volume <= 0) continue;
    const std::string name = then[k].side + " with its outlets";
    table.rows.push_back({name, figure(now[k].peak(), units.flow), figure(now[k].volume(), units.volume, 3),
                          figure(then[k].peak(), units.flow), figure(then[k].volume(), units.volume, 3)});
    if (then[k].volume() > (1 + worth_saying) * now[k].volume() + 1e-3 * scene.as_is.ledger.rain)
      more.push_back(name + " gets " + amount(then[k].volume() - now[k].volume(), units.volume) +
                     " more than now.");
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

} // namespace

std::string permit_flows(const SheetScene& scene) {
  const Units& units = scene.units();
  Table table{"Water over each lot line: most at once (" + units.flow.name + ") and in all (" +
                  units.volume.name + ")",
              {"where", "now, most", "in all"},
              {},
              {}};
  if (scene.built != nullptr) table.head.insert(table.head.end(), {"proposed, most", "in all"});
  std::vector<std::string> more;
  add_flows(table, more, scene, "edge: ", &results::DesignRecord::edges);
  add_flows(table, more, scene, "across ", &results::DesignRecord::lines);
  std::size_t outlets_shown = 0;
  if (scene.design != nullptr)
    for (const site::Outlet& outlet : scene.design->outlets) {
      if (++outlets_shown > most_outlets) break;
      const double volume = results::outlet_volume(*scene.built, outlet.name);
      table.rows.push_back({"outlet: " + short_name(outlet.name, 24), "0", "0",
                            figure(peak_of_outlet(*scene.built, outlet.name), units.flow),
                            figure(volume, units.volume, 3)});
      // Where nothing left the yard by its drains, what an outlet gives is met again at the edges.
      if (outlet.kind == "daylight" && volume > 0 && !(scene.built->ledger.left_by_drains > 0))
        more.push_back(short_name(outlet.name, 24) +
                       " gives its water to the ground of the yard: it is counted again where it leaves.");
    }
  if (scene.design != nullptr) add_sums(table, more, scene), add_failed(more, *scene.built);
  if (scene.design != nullptr && scene.design->outlets.size() > 1)
    more.push_back("All outlets together: " + amount(scene.built->ledger.left_by_drains, units.volume, 3) +
                   ".");
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
