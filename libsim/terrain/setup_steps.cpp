#include <lowspot/terrain/setup_steps.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/terrain/neighbours.hpp>

namespace lowspot::terrain {
namespace {

constexpr double rod = 0.006; // m: the least scatter of a guess
constexpr double cut = 9; // squared misfits count no more than this: edges in the ground are none of a step
constexpr std::size_t most = 1500; // sightings

// A shot and the guess from its neighbours, as booked.
struct Tie {
  double off = 0;                                   // m
  double weight = 0;                                // 1 / scatter [1/m]
  std::vector<std::pair<std::size_t, double>> from; // sighting and share
  std::size_t sighting = 0;
};

// Share of a step from sighting `first` on, before `end`, that shows in a tie.
double shows(const Tie& tie, std::size_t first, std::size_t end) {
  auto in = [&](std::size_t k) { return k >= first && k < end; };
  double share = in(tie.sighting) ? 1 : 0;
  for (const auto& [k, part] : tie.from)
    if (in(k)) share -= part;
  return share;
}

double misfit(const std::vector<Tie>& ties, std::size_t first, std::size_t end, double step) {
  double sum = 0;
  for (const Tie& tie : ties) {
    const double off = (tie.off - step * shows(tie, first, end)) * tie.weight;
    sum += std::min(cut, off * off);
  }
  return sum;
}

// The step that fits best: a few rounds of least squares over the ties that are not cut.
double best_step(const std::vector<Tie>& ties, std::size_t first, std::size_t end) {
  std::vector<double> single;
  for (const Tie& tie : ties)
    if (const double share = shows(tie, first, end); std::abs(share) > 0.3) single.push_back(tie.off / share);
  if (single.size() < 4) return 0;
  std::nth_element(single.begin(), single.begin() + single.size() / 2, single.end());
  double step = single[single.size() / 2];
  for (int round = 0; round < 4; ++round) {
    double above = 0, below = 0;
    for (const Tie& tie : ties) {
      const double share = shows(tie, first, end);
      const double off = (tie.off - step * share) * tie.weight;
      if (off * off > cut) continue;
      above += tie.weight * tie.weight * share * tie.off;
      below += tie.weight * tie.weight * share * share;
    }
    if (below > 0) step = above / below;
  }
  return step;
}

std::vector<Tie> ties_of(const LevelBook& book, const std::vector<Polygon>& buildings) {
  Survey survey;
  survey.buildings = buildings;
  std::vector<std::size_t> sighting_of;
  std::map<int, const Shot*> place_of_line;
  for (const Shot& shot : book.shots) place_of_line[shot.line] = &shot;
  for (std::size_t k = 0; k < book.sightings.size(); ++k) {
    const Sighting& s = book.sightings[k];
    const auto found = s.has_place ? place_of_line.find(s.line) : place_of_line.end();
    if (found == place_of_line.end() || found->second->written.sense == 0) continue;
    survey.points.push_back(
        {s.name, {found->second->at.x, found->second->at.y, s.elevation - s.adjusted}, s.line, true});
    sighting_of.push_back(k);
  }
  std::vector<Tie> ties;
  if (survey.points.size() < 8) return ties;
  const Neighbours neighbours(survey);
  const std::vector<char> none(survey.points.size(), 0);
  for (std::size_t k = 0; k < survey.points.size(); ++k) {
    const auto guesses = neighbours.guesses(survey.points[k].at, none, static_cast<int>(k));
    if (guesses.empty() || guesses.front().spread > 1.6) continue;
    Tie tie;
    tie.off = survey.points[k].at.z - guesses.front().z;
    tie.weight = guesses.front().spread; // for now
    tie.sighting = sighting_of[k];
    for (std::size_t n = 0; n < guesses.front().from.size(); ++n)
      tie.from.emplace_back(sighting_of[guesses.front().from[n]], guesses.front().share[n]);
    ties.push_back(tie);
  }
  if (ties.size() < 6) return {};
  std::vector<double> sizes;
  for (const Tie& tie : ties) sizes.push_back(std::abs(tie.off) / tie.weight);
  // By the quietest third of the ground: shots at steps and walls say nothing of it, and are cut.
  std::nth_element(sizes.begin(), sizes.begin() + sizes.size() * 3 / 10, sizes.end());
  const double scatter = std::max(rod, sizes[sizes.size() * 3 / 10] / 0.385); // of a normal distribution
  for (Tie& tie : ties) tie.weight = 1 / (scatter * tie.weight);
  return ties;
}

double typical(const std::vector<Tie>& ties, std::size_t first, std::size_t end, double step) {
  std::vector<double> sizes;
  for (const Tie& tie : ties)
    if (const double share = shows(tie, first, end); std::abs(share) > 0.2)
      sizes.push_back(std::abs(tie.off - step * share));
  if (sizes.empty()) return 0;
  std::nth_element(sizes.begin(), sizes.begin() + sizes.size() / 2, sizes.end());
  return sizes[sizes.size() / 2];
}

// The best place for a step among the sightings [from, end); `known` fixes its size.
SetupStep search(const LevelBook& book, const std::vector<Tie>& ties, std::size_t from, std::size_t end,
                 double known) {
  SetupStep best;
  const double before = misfit(ties, 0, 0, 0);
  for (std::size_t first = from; first < end; ++first) {
    if (first == 0) continue;
    const double step = known != 0 ? known : best_step(ties, first, end);
    if (step == 0) continue;
    const double gain = before - misfit(ties, first, end, step);
    // Where no shot tells two readings apart, the start of a set-up is the likelier.
    const bool starts = book.sightings[first].setup != book.sightings[first - 1].setup;
    if (gain < best.evidence - 1e-9 || (gain < best.evidence + 1e-9 && !starts)) continue;
    const Sighting& at = book.sightings[first];
    best = {at.setup, at.line, at.name, starts, step, known, 0, 0, gain};
    best.fit_before = typical(ties, first, end, 0);
    best.fit_after = typical(ties, first, end, step);
  }
  return best;
}

} // namespace

std::vector<SetupStep> find_setup_steps(const LevelBook& book, const std::vector<Polygon>& buildings) {
  std::vector<SetupStep> steps;
  if (book.sightings.size() > most) return steps;
  const std::vector<Tie> ties = ties_of(book, buildings);
  if (ties.empty()) return steps;
  std::size_t from = 0;
  for (const Closure& closure : book.closures) {
    std::size_t end = from;
    while (end < book.sightings.size() && book.sightings[end].line < closure.line) ++end;
    // A chain that was begun afresh on a known point leaves what was read before it unclosed.
    if (closure.from_setup > (from > 0 ? book.sightings[from - 1].setup : 0) + 1)
      while (from < end && book.sightings[from].setup < closure.from_setup) ++from;
    if (std::abs(closure.misclosure) > closure.allowed) {
      const SetupStep step = search(book, ties, from, end, closure.misclosure);
      if (step.evidence > 6 && step.fit_after < 1.1 * step.fit_before) steps.push_back(step);
    }
    from = end;
  }
  // What no known point closes.
  if (from + 1 < book.sightings.size()) {
    const SetupStep step = search(book, ties, from, book.sightings.size(), 0);
    if (std::abs(step.step) > 0.05 && step.evidence > 20 && step.fit_after < 0.5 * step.fit_before)
      steps.push_back(step);
  }
  return steps;
}

} // namespace lowspot::terrain
