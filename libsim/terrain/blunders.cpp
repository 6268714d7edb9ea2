#include <lowspot/terrain/blunders.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/base/text.hpp>
#include <lowspot/terrain/slips.hpp>

namespace lowspot::terrain {
namespace {

constexpr double least_usual = 0.005; // m: the reading of a rod itself
constexpr double least_off = 0.03;    // m: less is no blunder that matters
// How many times further off than usual: with a slip that explains it, and without.
constexpr double limit_explained = 7.5, limit_alone = 11;
constexpr double most_spread = 2.5;
constexpr int ring = 12; // shots near by that say what is usual

// The size that four of five stay under, as a standard deviation: edges in the ground show in it, one bad
// shot among them does not.
double typical(std::vector<double>& values) {
  const auto at = values.begin() + static_cast<std::ptrdiff_t>(values.size() * 4 / 5);
  std::nth_element(values.begin(), at, values.end());
  return *at / 1.28;
}

class Search {
public:
  Search(const Survey& survey, const LevelBook& book, const site::Site& site)
      : survey_(survey), book_(book), site_(site), neighbours_(survey), aside_(survey.points.size(), 0) {
    for (std::size_t k = 0; k < book.shots.size(); ++k) shot_of_line_[book.shots[k].line] = k;
    all_.resize(survey.points.size());
  }

  std::vector<Suspicion> run() {
    two_elevations();
    for (std::size_t k = 0; k < all_.size(); ++k) measure(static_cast<int>(k));
    swapped_places();
    // Thousands of points were not written down by hand: the worst few tell.
    const std::size_t most =
        survey_.points.size() > 2000 ? 5 : std::max<std::size_t>(5, survey_.points.size() / 8);
    while (found_.size() < most && set_worst_aside()) {
    }
    std::stable_sort(found_.begin(), found_.end(),
                     [](const Suspicion& a, const Suspicion& b) { return a.evidence > b.evidence; });
    return found_;
  }

private:
  const Shot* shot_of(int point) const {
    const auto at = shot_of_line_.find(survey_.points[point].line);
    return at == shot_of_line_.end() ? nullptr : &book_.shots[at->second];
  }

  void measure(int k) {
    all_[k] = survey_.points[k].shot && !aside_[k]
                  ? misfit_of(neighbours_.guesses(survey_.points[k].at, aside_, k), survey_.points[k].at.z)
                  : Misfit{};
  }

  // How far shots near a place are off, without the point itself in their guesses when asked for.
  double usual_near(const Point3& at, int self, bool without) {
    std::vector<double> sizes;
    const char was = self >= 0 ? aside_[self] : 0;
    if (self >= 0) aside_[self] = 1;
    for (int other : neighbours_.near(at, ring, aside_, self)) {
      if (!survey_.points[other].shot) continue;
      const Misfit m = without ? misfit_of(neighbours_.guesses(survey_.points[other].at, aside_, other),
                                           survey_.points[other].at.z)
                               : all_[other];
      if (m.known) sizes.push_back(std::abs(m.off) / m.spread);
    }
    if (self >= 0) aside_[self] = was;
    if (sizes.size() < 5) return std::numeric_limits<double>::infinity();
    return std::max(least_usual, typical(sizes));
  }

  double usual_overall() const {
    std::vector<double> sizes;
    for (const Misfit& m : all_)
      if (m.known) sizes.push_back(std::abs(m.off) / m.spread);
    return sizes.size() < 5 ? std::numeric_limits<double>::infinity() : std::max(least_usual, typical(sizes));
  }

  // The slip that leaves least of the misfit to the ground all round, where the mended shot agrees with its
  // side.
  bool explain(const Shot& shot, const std::vector<Guess>& guesses, double usual,
               Suspicion& suspicion) const {
    if (guesses.empty()) return false;
    const double all_round = shot.at.z - guesses.front().z;
    double least = 0.5 * std::abs(all_round);
    bool likely = false;
    for (const Slip& slip : possible_slips(shot.written)) {
      const Misfit mended = misfit_of(guesses, shot.at.z + slip.change);
      if (std::abs(mended.off) > 2.5 * usual * mended.spread) continue;
      if (std::abs(all_round + slip.change) > least) continue;
      least = std::abs(all_round + slip.change);
      likely =
          slip.kind != SlipKind::half_foot; // as high as many a step: no help in telling one from the other
      suspicion.kind = SuspicionKind::slip;
      suspicion.cause = slip_name(slip.kind, shot.written.unit);
      suspicion.meant = slip.meant;
      suspicion.mended_elevation = shot.at.z + slip.change;
      suspicion.off_mended = all_round + slip.change;
      suspicion.off = all_round;
    }
    return likely;
  }

  Suspicion about(const Shot& shot, const Misfit& misfit, double usual) const {
    Suspicion suspicion;
    suspicion.name = shot.name;
    suspicion.line = shot.line;
    suspicion.at = suspicion.mended_at = {shot.at.x, shot.at.y};
    suspicion.elevation = shot.at.z;
    suspicion.written = shot.written.text;
    suspicion.off = misfit.off;
    suspicion.usual = usual;
    suspicion.evidence = std::abs(misfit.off) / (usual * misfit.spread);
    return suspicion;
  }

  bool set_worst_aside() {
    const double overall = usual_overall();
    double best = 0;
    int worst = -1;
    Suspicion chosen;
    for (int k = 0; k < static_cast<int>(all_.size()); ++k) {
      const Misfit& m = all_[k];
      const Shot* shot = m.known ? shot_of(k) : nullptr;
      if (!shot || std::abs(m.off) < least_off) continue;
      // Cheap first: what is near counts with the bad shot in it, which only makes it look better.
      double usual = std::max(usual_near(survey_.points[k].at, k, false), 0.6 * overall);
      if (std::abs(m.off) < 0.3 * limit_explained * usual * m.spread) continue;
      usual = std::max(usual_near(survey_.points[k].at, k, true), 0.6 * overall);
      Suspicion suspicion = about(*shot, m, usual);
      const bool explained =
          explain(*shot, neighbours_.guesses(survey_.points[k].at, aside_, k), usual, suspicion);
      const double margin = suspicion.evidence / (explained ? limit_explained : limit_alone);
      if (margin < 1 || margin <= best) continue;
      best = margin;
      worst = k;
      chosen = suspicion;
    }
    if (worst < 0) return false;
    found_.push_back(chosen);
    put_aside(worst);
    return true;
  }

  void put_aside(int point) {
    aside_[point] = 1;
    all_[point] = {};
    for (int other : neighbours_.near(survey_.points[point].at, 40, aside_, point)) measure(other);
  }

  // One point with two elevations: by its name, or by its place.
  void two_elevations() {
    constexpr double same = 0.3, enough = 0.012; // m: 0.04 ft
    std::map<std::string, std::size_t> by_name;
    std::map<std::pair<long, long>, std::size_t> by_place;
    for (std::size_t k = 0; k < book_.shots.size(); ++k) {
      const Shot& shot = book_.shots[k];
      auto compare = [&](std::size_t other) {
        const Shot& first = book_.shots[other];
        if (std::hypot(first.at.x - shot.at.x, first.at.y - shot.at.y) > same) return false;
        if (std::abs(first.at.z - shot.at.z) > enough) pair_of(first, shot);
        return true;
      };
      const auto place = std::pair(std::lround(shot.at.x / 0.02), std::lround(shot.at.y / 0.02));
      const auto [there, fresh] = by_place.insert({place, k});
      const auto [named, first_of_name] = by_name.insert({lower(shot.name), k});
      if (!fresh && compare(there->second)) continue;
      if (!first_of_name) compare(named->second);
    }
  }

  void pair_of(const Shot& first, const Shot& second) {
    // The worse of the two by what lies round them.
    auto guess = [&](const Shot& shot) {
      std::vector<char> aside = aside_;
      for (std::size_t k = 0; k < survey_.points.size(); ++k)
        if (std::hypot(survey_.points[k].at.x - shot.at.x, survey_.points[k].at.y - shot.at.y) < 0.3)
          aside[k] = 1;
      return misfit_of(neighbours_.guesses(shot.at, aside, -1), shot.at.z);
    };
    const Misfit a = guess(first), b = guess(second);
    const bool second_worse = !a.known || !b.known || std::abs(b.off) >= std::abs(a.off);
    const Shot& worse = second_worse ? second : first;
    const Shot& better = second_worse ? first : second;
    Suspicion suspicion = about(worse, second_worse ? b : a, least_usual);
    suspicion.kind = SuspicionKind::two_elevations;
    suspicion.cause = "one point with two elevations";
    suspicion.other_name = better.name;
    suspicion.other_line = better.line;
    suspicion.mended_elevation = better.at.z;
    suspicion.off_mended = second_worse ? a.off : b.off;
    suspicion.evidence = std::abs(first.at.z - second.at.z) / least_usual;
    found_.push_back(suspicion);
    for (std::size_t k = 0; k < survey_.points.size(); ++k)
      if (survey_.points[k].line == first.line || survey_.points[k].line == second.line) aside_[k] = 1;
  }

  // A shot that fits where its x and y are swapped and does not fit where it stands.
  void swapped_places() {
    const double overall = usual_overall();
    if (!std::isfinite(overall)) return;
    for (int k = 0; k < static_cast<int>(all_.size()); ++k) {
      const Shot* shot = survey_.points[k].shot && !aside_[k] ? shot_of(k) : nullptr;
      if (!shot || std::abs(shot->at.x - shot->at.y) < 1 || fits_in_order(k)) continue;
      const Point3 other{shot->at.y, shot->at.x, shot->at.z};
      const bool inside = near_yard({shot->at.x, shot->at.y}), swapped_inside = near_yard({other.x, other.y});
      if (!swapped_inside) continue;
      const Misfit there = misfit_of(neighbours_.guesses(other, aside_, k), other.z);
      if (!there.known || there.spread > 2) continue;
      const double usual_there = std::max(usual_near(other, k, true), overall);
      if (std::abs(there.off) > 3 * usual_there * there.spread) continue;
      const double usual_here = std::max(usual_near(survey_.points[k].at, k, true), 0.6 * overall);
      const double here = all_[k].known ? std::abs(all_[k].off) / (usual_here * all_[k].spread) : 0;
      // Off the yard the place itself is the evidence; on it the elevation has to be.
      if (inside && here < 0.7 * limit_explained) continue;
      Suspicion suspicion = about(*shot, all_[k], std::isfinite(usual_here) ? usual_here : overall);
      suspicion.kind = SuspicionKind::swapped_place;
      suspicion.cause = "x and y changed places";
      suspicion.mended_at = {other.x, other.y};
      suspicion.mended_elevation = shot->at.z;
      suspicion.off_mended = there.off;
      suspicion.evidence = inside ? here : std::max(here, 20.0);
      found_.push_back(suspicion);
      put_aside(k);
    }
  }

  bool near_yard(const Point& at) const {
    if (contains(site_.outline, at)) return true;
    Polyline closed = site_.outline;
    closed.push_back(closed.front());
    return distance_to(closed, at) < 0.5;
  }

  // Crews walk: where the way from the shot before to the one after is no longer by the place as booked, it
  // stands.
  bool fits_in_order(int point) const {
    const auto found = shot_of_line_.find(survey_.points[point].line);
    if (found == shot_of_line_.end()) return true;
    const std::size_t k = found->second;
    const Point here{book_.shots[k].at.x, book_.shots[k].at.y}, swapped{here.y, here.x};
    constexpr double far = std::numeric_limits<double>::infinity();
    double as_booked = 0, as_swapped = 0, near_booked = far, near_swapped = far;
    for (std::size_t other : {k - 1, k + 1}) {
      if (other >= book_.shots.size()) continue;
      const Point beside{book_.shots[other].at.x, book_.shots[other].at.y};
      as_booked += distance(here, beside);
      as_swapped += distance(swapped, beside);
      near_booked = std::min(near_booked, distance(here, beside));
      near_swapped = std::min(near_swapped, distance(swapped, beside));
    }
    return as_booked <= as_swapped && near_booked <= near_swapped;
  }

  const Survey& survey_;
  const LevelBook& book_;
  const site::Site& site_;
  Neighbours neighbours_;
  std::vector<char> aside_;
  std::vector<Misfit> all_;
  std::map<int, std::size_t> shot_of_line_;
  std::vector<Suspicion> found_;
};

} // namespace

Misfit misfit_of(const std::vector<Guess>& guesses, double z) {
  // Guesses that reach far beyond their points agree with anything: only those not much worse than the best
  // count.
  double least = std::numeric_limits<double>::infinity();
  for (const Guess& guess : guesses) least = std::min(least, guess.spread);
  Misfit best;
  for (const Guess& guess : guesses) {
    if (guess.spread > std::max(1.3 * least, most_spread)) continue;
    const double off = z - guess.z;
    if (best.known && std::abs(off) / guess.spread >= std::abs(best.off) / best.spread) continue;
    best = {true, off, guess.spread};
  }
  return best;
}

std::vector<Suspicion> find_blunders(const Survey& survey, const LevelBook& book, const site::Site& site) {
  if (book.shots.empty()) return {};
  return Search(survey, book, site).run();
}

} // namespace lowspot::terrain
