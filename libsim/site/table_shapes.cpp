// Points, lines and outlines of a table.
#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/outline_file.hpp>
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {
namespace {
constexpr double same_point = 1e-9; // m

void refuse_many(const TableReader& table, const std::string& key, std::size_t places) {
  if (places > limits::list_entries)
    table.fail(key, std::to_string(places) + " entries", "at most " + std::to_string(limits::list_entries),
               "Leave out what makes no difference to the water.");
}
} // namespace

const toml::array& TableReader::list(const std::string& key, const std::string& expected) const {
  const toml::node& node = required(key, expected);
  const auto* array = node.as_array();
  if (!array) fail(key, shown(node), expected, "Write a list in square brackets.");
  refuse_many(*this, key, array->size());
  return *array;
}

std::vector<double> TableReader::coordinates(const std::string& key, const toml::node& node,
                                             std::size_t count) const {
  static const char* const names[] = {"", "[x]", "[x, y]", "[x, y, elevation]", "[x, y, width, depth]"};
  const auto* array = node.as_array();
  if (!array || array->size() != count)
    fail(key, shown(node), names[count],
         "Each place is a list of " + std::to_string(count) + " bare numbers.");
  std::vector<double> values;
  for (const toml::node& entry : *array) values.push_back(coordinate(key, entry));
  return values;
}

Point TableReader::point(const std::string& key) const {
  const auto values = coordinates(key, required(key, "a place [x, y]"), 2);
  return {values[0], values[1]};
}

Polyline TableReader::line_of_points(const std::string& key, std::size_t least) const {
  const std::string expected = "a list of " + std::to_string(least) + " or more places [[x, y], ...]";
  const toml::array& array = list(key, expected);
  Polyline line;
  for (const toml::node& entry : array) {
    const auto values = coordinates(key, entry, 2);
    const Point next{values[0], values[1]};
    if (!line.empty() && distance(line.back(), next) < same_point)
      fail(key, "the same place twice running", expected, "Remove the repeated place.");
    line.push_back(next);
  }
  if (line.size() < least)
    fail(key, "a list of " + std::to_string(line.size()), expected, "Add the missing places.");
  return line;
}

std::vector<Point3> TableReader::shots(const std::string& key, std::size_t least) const {
  const std::string expected =
      "a list of " + std::to_string(least) + " or more shots [[x, y, elevation], ...]";
  const toml::array& array = list(key, expected);
  std::vector<Point3> all;
  for (const toml::node& entry : array) {
    const auto values = coordinates(key, entry, 3);
    all.push_back({values[0], values[1], values[2]});
  }
  if (all.size() < least)
    fail(key, "a list of " + std::to_string(all.size()), expected, "Add the missing shots.");
  return all;
}

std::vector<std::vector<Point3>> TableReader::breaklines(const std::string& key) const {
  const std::string expected = "a list of lines, each [[x, y, elevation], ...]";
  std::vector<std::vector<Point3>> lines;
  for (const toml::node& entry : list(key, expected)) {
    const auto* array = entry.as_array();
    const bool nested = array && !array->empty() && array->front().is_array();
    if (!nested || array->size() < 2)
      fail(key, shown(entry), expected + " with two points or more",
           "A single line needs brackets round it too: [[[x, y, z], [x, y, z]]].");
    refuse_many(*this, key, array->size());
    std::vector<Point3> line;
    for (const toml::node& place : *array) {
      const auto values = coordinates(key, place, 3);
      line.push_back({values[0], values[1], values[2]});
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

std::vector<double> TableReader::elevations(const std::string& key) const {
  std::vector<double> values;
  for (const toml::node& entry : list(key, "a list of elevations")) values.push_back(coordinate(key, entry));
  return values;
}

Polygon TableReader::outline() const {
  if (has("rectangle")) {
    if (has("outline"))
      fail("rectangle", "both `rectangle` and `outline`", "one of them",
           "Remove the one that does not hold.");
    const auto v = coordinates("rectangle", *find("rectangle"), 4);
    if (!(v[2] > 0 && v[3] > 0))
      fail("rectangle", "a width or depth that is not above zero", "[x, y, width, depth]",
           "x, y is the south-west corner; width runs east, depth runs north.");
    return {{v[0], v[1]}, {v[0] + v[2], v[1]}, {v[0] + v[2], v[1] + v[3]}, {v[0], v[1] + v[3]}};
  }
  const toml::node* node = find("outline");
  Polygon polygon = node != nullptr && node->is_string() ? outline_from_file(*this, "outline")
                                                         : line_of_points("outline", 3);
  refuse_many(*this, "outline", polygon.size());
  if (polygon.size() > 3 && distance(polygon.front(), polygon.back()) < same_point) polygon.pop_back();
  const std::string problem = why_not_simple(polygon);
  if (!problem.empty())
    fail("outline", "an outline that cannot be used: " + problem, "corners in order round a simple shape",
         "Draw it on paper in the order written; usually two corners have changed places.");
  return polygon;
}

} // namespace lowspot::site
