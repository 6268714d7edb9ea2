// Where the time of one whole run goes: a site with one design, or as it is with its sources followed, hour
// by hour of the storm and then day by day. Prints CPU seconds, hydraulic steps, the share of cells that
// moved, and at the end how long each area stood wet, so that a change of speed can be seen beside a change
// of answer. Usage: run_benchmark SITE CATALOG [design | - | +] [cell in m, 0 for the site's own] [routed];
// "-" is the yard as it is, "+" the same with its sources.
#include <cstdio>
#include <cstdlib>
#include <string>

#include "cpu_seconds.hpp"

#include <lowspot/catalog/catalog.hpp>
#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/results/recorder.hpp>
#include <lowspot/site/read_site.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/low_spots.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {

struct Mark {
  double time = 0, cpu = 0, updates = 0, resting = 0;
  long steps = 0, yard_steps = 0;
};

Mark mark(const yard::Yard& yard, long yard_steps) {
  const surface::Counters& counters = yard.surface().counters();
  return {yard.time(), cpu_seconds(), counters.cell_updates, counters.resting, counters.steps, yard_steps};
}

// Records, and counts the steps of the yard.
class Counting : public yard::Observer {
public:
  explicit Counting(yard::Observer& recorder) : recorder_(recorder) {}
  void step_done(const yard::Yard& yard, const yard::StepFlows& flows) override {
    ++steps;
    recorder_.step_done(yard, flows);
  }
  long steps = 0;

private:
  yard::Observer& recorder_;
};

void print(const Mark& from, const Mark& to, double cells) {
  const double steps = static_cast<double>(to.steps - from.steps);
  std::printf(
      "%6.1f h to %6.1f h %8.2f CPU s %6ld yard steps, %8.0f of water of %6.4f s, %5.1f %% of the cells, "
      "%4.1f %% at rest\n",
      from.time / 3600, to.time / 3600, to.cpu - from.cpu, to.yard_steps - from.yard_steps, steps,
      steps > 0 ? (to.time - from.time - (to.resting - from.resting)) / steps : 0.0,
      steps > 0 ? 100 * (to.updates - from.updates) / steps / cells : 0.0,
      100 * (to.resting - from.resting) / (to.time - from.time));
}

} // namespace

int main(int count, char** arguments) {
  if (count < 3) {
    std::fprintf(stderr, "usage: run_benchmark SITE CATALOG [design | - | +] [cell in m | 0] [routed]\n");
    return 2;
  }
  std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);
  const std::string name = count > 3 ? arguments[3] : "-";
  const site::Site site = site::read_site(arguments[1], catalog::read_catalog(arguments[2]));
  const double cell = count > 4 ? std::atof(arguments[4]) : 0;
  const terrain::Ground ground = terrain::build_ground(site, cell > 0 ? cell : site::not_given);
  const rain::Hyetograph rain = rain::make_hyetograph(site);
  const site::Design* chosen = nullptr;
  for (const site::Design& design : site.designs)
    if (design.name == name) chosen = &design;
  if (!chosen && name != "-" && name != "+") {
    std::fprintf(stderr, "no design '%s'\n", name.c_str());
    return 2;
  }
  yard::Options options;
  options.follow_sources = name == "+";
  if (count > 5 && std::string(arguments[5]) == "routed") options.method = surface::Method::routed;
  const double start = cpu_seconds();
  yard::Yard yard(site, ground, rain, chosen, options);
  results::Recorder recorder(yard, results::plan_outputs(site.run, yard.end_of_rain(), yard.end_time()));
  if (options.follow_sources) recorder.follow_shares(yard, terrain::find_low_spots(ground));
  const double cells = static_cast<double>(ground.grid.cells());
  Counting counting(recorder);
  const Mark first = mark(yard, 0);
  Mark last = first;
  for (const double time : recorder.plan().times) {
    yard.advance(time, &counting);
    recorder.output(yard);
    const double stretch = time <= yard.end_of_rain() + 4 * 3600 ? 3600 : 24 * 3600;
    if (time - last.time < stretch - 1 && time != recorder.plan().times.back()) continue;
    const Mark now = mark(yard, counting.steps);
    print(last, now, cells);
    last = now;
  }
  const results::DesignRecord record = recorder.finish(yard, 0);
  std::printf("%s: %.0f cells, %.2f CPU s, of which set-up %.2f; %ld groups made again\n",
              record.name.c_str(), cells, cpu_seconds() - start, first.cpu - start,
              yard.surface().counters().groups_again);
  print(first, last, cells);
  for (const results::AreaRecord& area : record.areas)
    std::printf("  %-20s stood %8.3f h after the rain, deepest %7.2f mm, soggy %8.3f h, table to %7.2f mm\n",
                area.name.c_str(), area.standing_hours_after_rain, 1e3 * area.max_depth, area.soggy_hours,
                1e3 * area.perched_max);
  for (const results::GaugeRecord& gauge : record.gauges)
    std::printf("  %-20s stood %8.3f h after the rain, deepest %7.2f mm\n", gauge.name.c_str(),
                gauge.standing_hours_after_rain, 1e3 * gauge.max_depth);
  const results::LedgerRecord& books = record.ledger;
  std::printf("  over the edges %.4f m3, by drains %.4f, infiltrated %.4f, leaked %.4f, to the air %.4f; "
              "closure %.1e\n",
              books.left_over_edges, books.left_by_drains, books.infiltrated, books.deep_leakage,
              books.evapotranspiration, books.closure);
  for (const results::FlowRecord& edge : record.edges)
    std::printf("  %s: peak %.5f L/s, %.4f m3\n", edge.name.c_str(), 1e3 * edge.peak_flow, edge.volume);
  double wet = 0;
  for (const double hours : record.standing_hours) wet += hours * ground.grid.cell_area();
  std::printf("  wet area times hours after the rain %.3f m2 h\n", wet);
}
