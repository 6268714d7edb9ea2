#include <lowspot/job/pieces.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>

namespace lowspot::job {
namespace {

constexpr double degree = M_PI / 180;

double heading(const Point& from, const Point& to) {
  return std::atan2(to.y - from.y, to.x - from.x);
}

// Turn between two headings, 0 to pi.
double turn_between(double a, double b) {
  return std::abs(std::remainder(b - a, 2 * M_PI));
}

bool flexible(const site::PipeChoice& pipe) {
  return lower(pipe.name).find("corrugated") != std::string::npos;
}

class Pieces {
public:
  explicit Pieces(bool feet) : feet_(feet) {}

  std::string size(const site::PipeChoice& pipe) const { return pipe_size(pipe, feet_); }
  void add(const std::string& name) {
    for (auto& [known, count] : list)
      if (known == name) {
        ++count;
        return;
      }
    list.emplace_back(name, 1);
  }
  void elbow(double turn, const site::PipeChoice& pipe) {
    if (const double made = elbow_for(turn); made > 0)
      add("elbow " + rounded(made / degree, 3) + " deg, " + size(pipe));
  }
  std::vector<std::pair<std::string, int>> list;

private:
  bool feet_ = true;
};

void add_bends(const site::Run& run, Pieces& pieces) {
  for (std::size_t k = 1; k + 1 < run.path.size(); ++k) {
    const double turn =
        turn_between(heading(run.path[k - 1], run.path[k]), heading(run.path[k], run.path[k + 1]));
    if (turn > (flexible(run.pipe) ? 30 : 11) * degree) pieces.elbow(turn, run.pipe);
  }
}

void add_meeting(const site::Design& design, const std::string& fitting, Pieces& pieces) {
  std::vector<const site::Run*> in, out;
  for (const site::Run& run : design.runs) {
    if (run.to == fitting) in.push_back(&run);
    if (run.from == fitting) out.push_back(&run);
  }
  if (in.empty() || out.empty()) return;
  const site::Run& leaving = *out.front();
  const double away = heading(leaving.path[0], leaving.path[1]);
  const auto arriving = [](const site::Run& run) {
    return heading(run.path[run.path.size() - 2], run.path.back());
  };
  const std::size_t ways = in.size() + out.size();
  if (ways == 2) {
    const double turn = turn_between(arriving(*in.front()), away);
    if (elbow_for(turn) > 0)
      pieces.elbow(turn, leaving.pipe);
    else if (pieces.size(in.front()->pipe) == pieces.size(leaving.pipe)) // else the reducer joins them
      pieces.add("coupling, " + pieces.size(leaving.pipe));
  } else {
    // A side run that comes in at less than 60 degrees to the flow calls for a wye.
    double sharpest = 0;
    for (const site::Run* run : in) sharpest = std::max(sharpest, turn_between(arriving(*run), away));
    pieces.add(std::string(ways > 3                 ? "cross"
                           : sharpest < 60 * degree ? "wye"
                                                    : "tee") +
               ", " + pieces.size(leaving.pipe));
  }
  for (const site::Run* run : in)
    if (pieces.size(run->pipe) != pieces.size(leaving.pipe))
      pieces.add("reducer, " + pieces.size(leaving.pipe) + " to " + pieces.size(run->pipe));
}

} // namespace

std::string pipe_size(const site::PipeChoice& pipe, bool feet) {
  const std::size_t end = pipe.name.find(" in");
  if (end < 4) return pipe.name.substr(0, end + 3);
  return feet ? rounded(pipe.diameter / 0.0254, 3) + " in" : rounded(pipe.diameter * 1000, 3) + " mm";
}

double elbow_for(double turn) {
  if (turn < 11 * degree) return 0;
  if (turn < 33.75 * degree) return 22.5 * degree;
  return turn < 67.5 * degree ? 45 * degree : 90 * degree;
}

std::vector<std::pair<std::string, int>> pieces_of(const site::Design& design, bool feet,
                                                   const std::vector<std::string>& heads_taken) {
  Pieces pieces(feet);
  for (const site::Fitting& fitting : design.fittings) add_meeting(design, fitting.name, pieces);
  for (const site::Run& run : design.runs) {
    if (run.pipe.diameter <= 0) continue;
    add_bends(run, pieces);
    const bool taken = std::find(heads_taken.begin(), heads_taken.end(), run.name) != heads_taken.end();
    if (run.from.empty() && run.pipe.slot_area > 0 && !taken) pieces.add("end cap, " + pieces.size(run.pipe));
  }
  for (const site::Outlet& outlet : design.outlets)
    for (const site::Run& run : design.runs)
      if (run.to == outlet.name) pieces.add("outlet: " + outlet.kind + ", " + pieces.size(run.pipe));
  return pieces.list;
}

} // namespace lowspot::job
