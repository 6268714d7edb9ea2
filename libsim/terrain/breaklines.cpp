#include <lowspot/terrain/breaklines.hpp>

#include <algorithm>
#include <cmath>
#include <set>

#include <lowspot/base/text.hpp>

namespace lowspot::terrain {
namespace {

constexpr double same_place = 0.01;     // m
constexpr double same_elevation = 0.05; // m

double turn(const Point3& a, const Point3& b, const Point3& c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

bool boxes_meet(const Point3& a, const Point3& b, const Point3& c, const Point3& d) {
  return std::max(a.x, b.x) + same_place >= std::min(c.x, d.x) &&
         std::max(c.x, d.x) + same_place >= std::min(a.x, b.x) &&
         std::max(a.y, b.y) + same_place >= std::min(c.y, d.y) &&
         std::max(c.y, d.y) + same_place >= std::min(a.y, b.y);
}

bool cross(const Point3& a, const Point3& b, const Point3& c, const Point3& d) {
  return (turn(a, b, c) > 0) != (turn(a, b, d) > 0) && (turn(c, d, a) > 0) != (turn(c, d, b) > 0) &&
         turn(a, b, c) != 0 && turn(a, b, d) != 0 && turn(c, d, a) != 0 && turn(c, d, b) != 0;
}

class Joiner {
public:
  Joiner(Survey& survey, const site::Site& site) : survey_(survey), site_(site) {}

  void run() {
    std::vector<std::array<int, 2>> open;
    open.swap(survey_.edges);
    std::reverse(open.begin(), open.end());
    while (!open.empty()) {
      const auto edge = open.back();
      open.pop_back();
      const auto [a, b] = edge;
      if (a == b || done_.count(std::minmax(a, b))) continue;
      int middle = point_on(a, b);
      if (middle < 0) middle = crossing(a, b, open);
      if (middle >= 0) {
        open.push_back({middle, b});
        open.push_back({a, middle});
        continue;
      }
      done_.insert(std::minmax(a, b));
      survey_.edges.push_back(edge);
    }
  }

private:
  const Point3& at(int k) const { return survey_.points[k].at; }

  // The point nearest to a that lies on the way to b.
  int point_on(int a, int b) {
    int found = -1;
    double nearest_share = 1;
    const double ux = at(b).x - at(a).x, uy = at(b).y - at(a).y, square = ux * ux + uy * uy;
    for (int k = 0; k < static_cast<int>(survey_.points.size()); ++k) {
      if (k == a || k == b || !boxes_meet(at(a), at(b), at(k), at(k))) continue;
      const double share = ((at(k).x - at(a).x) * ux + (at(k).y - at(a).y) * uy) / square;
      if (share <= 0 || share >= nearest_share) continue;
      if (std::abs(turn(at(a), at(b), at(k))) > same_place * std::sqrt(square)) continue;
      found = k;
      nearest_share = share;
    }
    if (found >= 0)
      compare(at(a).z + nearest_share * (at(b).z - at(a).z), at(found).z,
              "a breakline passes the shot " + described(survey_.points[found]), "the shot is kept");
    return found;
  }

  // A new point where the edge crosses one that is already laid; that one is taken up again.
  int crossing(int a, int b, std::vector<std::array<int, 2>>& open) {
    for (std::size_t e = 0; e < survey_.edges.size(); ++e) {
      const auto [c, d] = survey_.edges[e];
      if (c == a || c == b || d == a || d == b || !boxes_meet(at(a), at(b), at(c), at(d))) continue;
      if (!cross(at(a), at(b), at(c), at(d))) continue;
      const double first = turn(at(c), at(d), at(a)), second = turn(at(c), at(d), at(b));
      const double share = first / (first - second);
      const double third = turn(at(a), at(b), at(c)), fourth = turn(at(a), at(b), at(d));
      const double other = third / (third - fourth);
      const double z = at(a).z + share * (at(b).z - at(a).z), w = at(c).z + other * (at(d).z - at(c).z);
      SurveyPoint meeting;
      meeting.name = "crossing of breaklines";
      meeting.at = {at(a).x + share * (at(b).x - at(a).x), at(a).y + share * (at(b).y - at(a).y),
                    (z + w) / 2};
      compare(z, w,
              "two breaklines cross at " + rounded(meeting.at.x / site_.unit, 5) + ", " +
                  rounded(meeting.at.y / site_.unit, 5),
              "their mean is used there");
      survey_.points.push_back(meeting);
      const int middle = static_cast<int>(survey_.points.size()) - 1;
      survey_.edges.erase(survey_.edges.begin() + static_cast<std::ptrdiff_t>(e));
      done_.erase(std::minmax(c, d));
      open.push_back({c, middle});
      open.push_back({middle, d});
      return middle;
    }
    return -1;
  }

  std::string described(const SurveyPoint& point) const {
    return "\"" + point.name + "\"" + (point.line > 0 ? " (line " + std::to_string(point.line) + ")" : "");
  }

  void compare(double z, double other, const std::string& what, const std::string& then) {
    if (std::abs(z - other) <= same_elevation) return;
    survey_.warnings.push_back(survey_.file + ": " + what + " and their elevations differ by " +
                               rounded(std::abs(z - other) / site_.unit, 3) + " " + site_.units + "; " +
                               then + ".");
  }

  Survey& survey_;
  const site::Site& site_;
  std::set<std::pair<int, int>> done_;
};

} // namespace

void join_edges(Survey& survey, const site::Site& site) {
  Joiner(survey, site).run();
}

Survey densified(const Survey& survey, double spacing) {
  Survey result = survey;
  result.edges.clear();
  for (const auto& [a, b] : survey.edges) {
    const Point3 from = survey.points[a].at, to = survey.points[b].at;
    const int pieces =
        std::max(1, static_cast<int>(std::ceil(std::hypot(to.x - from.x, to.y - from.y) / spacing - 1e-9)));
    int last = a;
    for (int p = 1; p < pieces; ++p) {
      const double share = static_cast<double>(p) / pieces;
      SurveyPoint point = survey.points[a];
      point.shot = false;
      point.line = 0;
      point.at = {from.x + share * (to.x - from.x), from.y + share * (to.y - from.y),
                  from.z + share * (to.z - from.z)};
      result.points.push_back(point);
      const int here = static_cast<int>(result.points.size()) - 1;
      result.edges.push_back({last, here});
      last = here;
    }
    result.edges.push_back({last, b});
  }
  return result;
}

bool parted_by_edge(const Survey& survey, const Point3& a, const Point3& b) {
  for (const auto& [c, d] : survey.edges) {
    const Point3 &p = survey.points[c].at, &q = survey.points[d].at;
    if (boxes_meet(a, b, p, q) && cross(a, b, p, q)) return true;
  }
  return false;
}

} // namespace lowspot::terrain
