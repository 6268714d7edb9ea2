#include <lowspot/study/variation.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/run_reader.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::study {
namespace {

constexpr std::size_t most_choices = 20000;

// What the place of a run gives a cap of topsoil or of stone.
void settle_cap(const site::Site& site, site::Run& run) {
  if (run.cap.of_topsoil)
    run.cap.conductivity = site::topsoil_conductivity_at(site, point_along(run.path, length(run.path) / 2));
  else if (run.cap.of_stone)
    run.cap.conductivity = run.stone.conductivity;
}

site::PipeChoice solid(site::PipeChoice pipe) {
  const std::string slotted = ", slotted";
  if (pipe.name.size() > slotted.size() &&
      pipe.name.compare(pipe.name.size() - slotted.size(), slotted.size(), slotted) == 0)
    pipe.name = pipe.name.substr(0, pipe.name.size() - slotted.size()) + ", solid";
  pipe.slot_area = 0;
  return pipe;
}

bool same_size(const site::PipeChoice& a, const site::PipeChoice& b) {
  return std::abs(a.diameter - b.diameter) < 0.02 * a.diameter;
}

void exchange_pipe(const site::PipeChoice& pipe, const std::vector<bool>& varied, site::Design& design) {
  const site::Design before = design;
  const auto stands = [&](const site::Run& run) { return site::stands_already(before, run.name); };
  for (std::size_t r = 0; r < design.runs.size(); ++r)
    if (varied[r]) {
      const bool takes_water = design.runs[r].pipe.slot_area > 0;
      design.runs[r].pipe = takes_water ? pipe : solid(pipe);
    }
  for (std::size_t r = 0; r < design.runs.size(); ++r)
    for (std::size_t v = 0; !varied[r] && !stands(design.runs[r]) && v < design.runs.size(); ++v)
      if (varied[v] && same_size(before.runs[v].pipe, before.runs[r].pipe)) design.runs[r].pipe = solid(pipe);
  // A pipe never gets smaller in the way of the flow. As many rounds as runs reach every one.
  for (std::size_t round = 0; round < design.runs.size(); ++round)
    for (site::Run& run : design.runs)
      for (const site::Run& feeder : design.runs)
        if (!stands(run) && !run.from.empty() && feeder.to == run.from &&
            feeder.pipe.diameter > run.pipe.diameter * 1.02)
          run.pipe = run.pipe.slot_area > 0 ? feeder.pipe : solid(feeder.pipe);
}

template <class Values>
int turns(const Values& values) {
  return std::max<int>(1, static_cast<int>(values.size()));
}

} // namespace

const site::Design& tuned_design(const site::Site& site) {
  if (site.tune)
    for (const site::Design& design : site.designs)
      if (design.name == site.tune->design) return design;
  throw InputError({site.file.string(), 0, "tune"}, "nothing to vary", "a [tune] table",
                   "Write [tune] with design = \"...\" and vary = { depth = [\"14 in\", \"18 in\"] }.");
}

std::vector<Choice> all_choices(const site::Site& site) {
  tuned_design(site);
  const site::TuneLists& lists = site.tune->vary;
  double count = 1;
  for (const int turn : {turns(lists.pipes), turns(lists.depths), turns(lists.widths), turns(lists.caps),
                         turns(lists.offsets), turns(lists.falls), turns(lists.stones)})
    count *= turn;
  if (count > static_cast<double>(most_choices))
    throw InputError({site.file.string(), site.tune->line, "tune.vary"},
                     std::to_string(static_cast<long>(count)) + " combinations",
                     "at most " + std::to_string(most_choices),
                     "Begin with two or three values each; the curve shows where more are worth trying.");
  std::vector<Choice> choices{Choice{}};
  const auto widen = [&](std::size_t values, int Choice::*member) {
    if (values == 0) return;
    std::vector<Choice> wider;
    for (const Choice& choice : choices)
      for (std::size_t k = 0; k < values; ++k) {
        wider.push_back(choice);
        wider.back().*member = static_cast<int>(k);
      }
    choices = std::move(wider);
  };
  widen(lists.pipes.size(), &Choice::pipe);
  widen(lists.depths.size(), &Choice::depth);
  widen(lists.widths.size(), &Choice::width);
  widen(lists.caps.size(), &Choice::cap);
  widen(lists.offsets.size(), &Choice::offset);
  widen(lists.falls.size(), &Choice::fall);
  widen(lists.stones.size(), &Choice::stone);
  return choices;
}

std::string choice_name(const site::Site& site, const Choice& choice) {
  const site::TuneLists& lists = site.tune->vary;
  std::string name;
  const auto add = [&](const std::string& part) { name += (name.empty() ? "" : "; ") + part; };
  const auto metres = [&](double value) { return site::written(value, Dimension::length, site); };
  if (choice.pipe >= 0) add(lists.pipes[choice.pipe].name);
  if (choice.depth >= 0) add(metres(lists.depths[choice.depth]) + " deep");
  if (choice.width >= 0) add(metres(lists.widths[choice.width]) + " wide");
  if (choice.cap >= 0) {
    const site::CapChoice& cap = lists.caps[choice.cap];
    add(cap.depth > 0 ? cap.name + ", " + metres(cap.depth) : cap.name);
  }
  if (choice.offset >= 0) add(metres(lists.offsets[choice.offset]) + " aside");
  if (choice.fall >= 0) add(site::written(lists.falls[choice.fall], Dimension::slope, site) + " fall");
  if (choice.stone >= 0) add(lists.stones[choice.stone].name);
  return name;
}

std::vector<bool> varied_runs(const site::Design& design) {
  std::vector<bool> varied;
  const auto stands = [&](const site::Run& run) { return site::stands_already(design, run.name); };
  for (const site::Run& run : design.runs) varied.push_back(run.has_trench && !stands(run));
  if (std::none_of(varied.begin(), varied.end(), [](bool one) { return one; }))
    for (std::size_t r = 0; r < varied.size(); ++r) varied[r] = !stands(design.runs[r]);
  return varied;
}

void exchange_parts(const site::Site& site, const Choice& choice, site::Design& design) {
  const site::TuneLists& lists = site.tune->vary;
  const std::vector<bool> varied = varied_runs(design);
  if (choice.pipe >= 0) exchange_pipe(lists.pipes[choice.pipe], varied, design);
  for (std::size_t r = 0; r < design.runs.size(); ++r) {
    if (!varied[r]) continue;
    site::Run& run = design.runs[r];
    if (choice.width >= 0) run.trench_width = lists.widths[choice.width];
    if (!run.has_trench) continue;
    if (choice.stone >= 0) run.stone = lists.stones[choice.stone];
    if (choice.cap >= 0) run.cap = lists.caps[choice.cap];
    if (choice.cap >= 0 || choice.stone >= 0) settle_cap(site, run);
  }
}

void settle_caps(const site::Site& site, const std::vector<bool>& varied, site::Design& design) {
  for (std::size_t r = 0; r < design.runs.size(); ++r)
    if (varied[r] && design.runs[r].has_trench) settle_cap(site, design.runs[r]);
}

} // namespace lowspot::study
