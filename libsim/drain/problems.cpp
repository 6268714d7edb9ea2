// What is wrong with a layout, found on the graph of its runs before anything is computed.
#include <algorithm>
#include <cmath>
#include <set>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/depth_first_search.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/drain/connections.hpp>
#include <lowspot/drain/layout.hpp>
#include <lowspot/drain/place_problems.hpp>

namespace lowspot::drain {

namespace {

using Sentences = std::vector<std::string>;
using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property,
                                    boost::property<boost::edge_index_t, int>>;
constexpr double backfall_tolerance = 1e-6;     // m along a run
constexpr double fitting_step_tolerance = 0.02; // m between the pipes of a fitting

constexpr double most_stations = 1e5; // some 20 MB, and 50 km of pipe at the usual spacing

std::string quoted(const std::string& name) {
  return "\"" + name + "\"";
}

bool is_place(const Point& at) {
  return std::isfinite(at.x) && std::isfinite(at.y);
}

bool figures_make_sense(const Run& run, Sentences& out) {
  const std::size_t before = out.size();
  const std::string who = "run " + quoted(run.name);
  if (!std::all_of(run.path.begin(), run.path.end(), is_place))
    out.push_back(who + " has a point whose place is not a number");
  else if (run.path.size() < 2 || length(run.path) <= 0)
    out.push_back(who + " has no length");
  if (run.inverts.size() != run.path.size())
    out.push_back(who + " has " + std::to_string(run.inverts.size()) + " inverts for " +
                  std::to_string(run.path.size()) + " points");
  for (double z : run.inverts)
    if (!std::isfinite(z)) {
      out.push_back(who + " has an invert that is not a number");
      break;
    }
  const Pipe& pipe = run.pipe;
  if (!is_figure(pipe.diameter) || !is_figure(pipe.slot_area) || !is_figure(pipe.discharge_coefficient))
    out.push_back(who + " has a negative or endless figure for its pipe");
  if (pipe.diameter > 0 && !(pipe.manning_n > 0 && std::isfinite(pipe.manning_n)))
    out.push_back(who + " has a pipe without a roughness");
  if (run.has_trench) {
    if (!(run.trench_width > 0 && std::isfinite(run.trench_width)))
      out.push_back(who + " has a trench without a width");
    if (!(run.stone.porosity > 0 && run.stone.porosity <= 1))
      out.push_back(who + " has stone whose porosity is not between 0 and 1");
    for (const double figure :
         {run.stone.conductivity, run.stone.forchheimer_b, run.cap.conductivity, run.cap.depth, run.bedding,
          run.bottom_conductivity, run.fabric.permittivity, run.fabric.clogging})
      if (!is_figure(figure)) {
        out.push_back(who + " has a negative or endless figure for its trench");
        break;
      }
  } else if (!(pipe.diameter > 0)) {
    out.push_back(who + " has neither pipe nor stone");
  }
  return out.size() == before;
}

void check_fall(const Run& run, Sentences& out) {
  for (std::size_t k = 1; k < run.inverts.size(); ++k) {
    const double rise = run.inverts[k] - run.inverts[k - 1];
    if (rise <= backfall_tolerance) continue;
    out.push_back("run " + quoted(run.name) + " falls the wrong way: its invert rises by " +
                  rounded(rise * 1000) + " mm between points " + std::to_string(k) + " and " +
                  std::to_string(k + 1));
    return;
  }
}

void check_names(const Layout& layout, const Connections& joined, Sentences& out) {
  std::set<std::string> seen;
  const auto note = [&](const char* kind, const std::string& name) {
    if (!name.empty() && !seen.insert(kind + name).second)
      out.push_back("there are two " + std::string(kind) + "s named " + quoted(name));
  };
  for (const Run& run : layout.runs) note("run", run.name);
  for (const Fitting& fitting : layout.fittings) note("fitting or outlet", fitting.name);
  for (const Outlet& outlet : layout.outlets) note("fitting or outlet", outlet.name);
  const int fittings = static_cast<int>(layout.fittings.size());
  const int outlets = static_cast<int>(layout.outlets.size());
  for (std::size_t i = 0; i < layout.runs.size(); ++i) {
    const Run& run = layout.runs[i];
    const std::string who = "run " + quoted(run.name);
    const RunEnds ends = joined.runs[i];
    if (ends.head == unknown_place)
      out.push_back(who + " comes from " + quoted(run.from) + ", which is neither a fitting nor an outlet");
    if (ends.foot == unknown_place)
      out.push_back(who + " goes to " + quoted(run.to) + ", which is neither a fitting nor an outlet");
    if (ends.foot == no_place)
      out.push_back(who + " leads nowhere: its foot meets no fitting, outlet or run");
    if (ends.head >= fittings && ends.head < fittings + outlets)
      out.push_back(who + " begins at the outlet " + quoted(run.from));
  }
}

struct LoopFinder : boost::default_dfs_visitor {
  explicit LoopFinder(std::vector<int>& closing_) : closing(&closing_) {}
  template <class Edge, class AnyGraph>
  void back_edge(Edge edge, const AnyGraph& graph) const {
    closing->push_back(get(boost::edge_index, graph, edge));
  }
  std::vector<int>* closing;
};

// Loops, and fittings from which no run leads on.
void check_ways_out(const Layout& layout, const Connections& joined, Sentences& out) {
  Graph graph(joined.places + layout.runs.size());
  for (std::size_t i = 0; i < layout.runs.size(); ++i) {
    const RunEnds ends = joined.runs[i];
    const int head = ends.head >= 0 ? ends.head : joined.places + static_cast<int>(i);
    if (ends.foot >= 0) add_edge(head, ends.foot, {static_cast<int>(i)}, graph);
  }
  std::vector<int> arriving(joined.places, 0);
  const int runs = static_cast<int>(layout.runs.size());
  for (std::size_t f = 0; f < layout.fittings.size(); ++f) {
    const std::string& to = layout.fittings[f].link.to;
    int place = place_index(layout, to);
    if (place < 0 && run_index(layout, to) >= 0) place = joined.runs[run_index(layout, to)].foot;
    if (to.empty() || place < 0) continue;
    add_edge(f, place, {runs + static_cast<int>(f)}, graph);
    ++arriving[place];
  }
  std::vector<int> closing;
  depth_first_search(graph, boost::visitor(LoopFinder(closing)));
  for (int edge : closing)
    out.push_back((edge < runs ? "run " + quoted(layout.runs[edge].name)
                               : "fitting " + quoted(layout.fittings[edge - runs].name)) +
                  " closes a loop: its water would come back to its head");
  for (const RunEnds& ends : joined.runs)
    if (ends.foot >= 0) ++arriving[ends.foot];
  for (std::size_t f = 0; f < layout.fittings.size(); ++f) {
    if (out_degree(f, graph) > 0) continue;
    out.push_back("fitting " + quoted(layout.fittings[f].name) +
                  (arriving[f] ? " leads nowhere: no run begins there" : " has no run"));
  }
  for (std::size_t o = 0; o < layout.outlets.size(); ++o)
    // A dry well or pump basin may take its water from downspouts alone.
    if (!arriving[layout.fittings.size() + o] && layout.outlets[o].chamber.area <= 0)
      out.push_back("outlet " + quoted(layout.outlets[o].name) + " has no run that ends there");
}

// Pipes that meet: none may begin above one that ends there, no outlet may lie above its pipe, and water in
// stone without a pipe must find stone, or an outlet, to go on to.
void check_meetings(const Layout& layout, const Connections& joined, Sentences& out) {
  const int fittings = static_cast<int>(layout.fittings.size());
  for (std::size_t i = 0; i < layout.runs.size(); ++i) {
    const Run& run = layout.runs[i];
    const int foot = joined.runs[i].foot;
    if (foot < 0) continue;
    if (foot >= fittings && foot < fittings + static_cast<int>(layout.outlets.size())) {
      const Outlet& outlet = layout.outlets[foot - fittings];
      if (outlet.invert > foot_invert(run) + fitting_step_tolerance)
        out.push_back("outlet " + quoted(outlet.name) + " lies " +
                      rounded((outlet.invert - foot_invert(run)) * 1000) + " mm above the foot of run " +
                      quoted(run.name));
      continue;
    }
    bool stone_goes_on = false;
    double lowest = std::numeric_limits<double>::infinity();
    const Run* next = nullptr;
    for (std::size_t j = 0; j < layout.runs.size(); ++j) {
      if (joined.runs[j].head != foot) continue;
      stone_goes_on = stone_goes_on || layout.runs[j].has_trench;
      if (head_invert(layout.runs[j]) >= lowest) continue;
      next = &layout.runs[j];
      lowest = head_invert(*next);
    }
    if (!next) continue;
    const double step = lowest - foot_invert(run);
    if (step > fitting_step_tolerance && !layout.as_built)
      out.push_back("run " + quoted(next->name) + " begins " + rounded(step * 1000) +
                    " mm above the foot of run " + quoted(run.name) + ", which feeds it");
    if (run.pipe.diameter <= 0 && !stone_goes_on)
      out.push_back("run " + quoted(run.name) + " has no pipe and leads to no stone or outlet");
  }
}

} // namespace

std::vector<std::string> problems(const Layout& layout) {
  Sentences out;
  if (!(layout.station_spacing > 0 && std::isfinite(layout.station_spacing)))
    out.push_back("the spacing of stations is not positive");
  bool sound = true;
  for (const Run& run : layout.runs) sound = figures_make_sense(run, out) && sound;
  if (!sound || !out.empty()) return out;
  double stations = 0;
  for (const Run& run : layout.runs) stations += length(run.path) / layout.station_spacing;
  if (stations > most_stations) {
    out.push_back("the runs are cut into " + rounded(stations) + " stations of " +
                  rounded(layout.station_spacing) + " m, at most " + rounded(most_stations) +
                  " can be computed");
    return out;
  }
  if (!layout.as_built)
    for (const Run& run : layout.runs) check_fall(run, out);
  const std::size_t faults = out.size();
  check_places(layout, out);
  if (out.size() > faults) return out;
  const Connections joined = connect(layout);
  check_names(layout, joined, out);
  check_ways_out(layout, joined, out);
  check_meetings(layout, joined, out);
  return out;
}

} // namespace lowspot::drain
