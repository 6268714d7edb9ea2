#include "catch.hpp"

#include <cmath>
#include <sstream>

#include <lowspot/results/hydrographs_csv.hpp>

#include "results/sample_comparison.hpp"

using namespace lowspot::results;

namespace {
std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}
} // namespace

TEST_CASE("columns are time, rain and every series of every design") {
  const auto all = sample::comparison();
  const auto lines = lines_of(hydrographs_csv(all));
  CHECK(lines[0] ==
        "time_s,rain_m_per_s,as is:edges_m3_per_s,as is:gauge:bed corner_m,as is:bed:long bed:depletion_m,"
        "as is:bed:long bed:available_share,"
        "3 in along the patio:edges_m3_per_s,3 in along the patio:gauge:bed corner_m,"
        "3 in along the patio:bed:long bed:depletion_m,3 in along the patio:bed:long bed:available_share,3 "
        "in along the patio:drain:fence outlet_m3_per_s");
  CHECK(lines.size() == all.designs[0].time.size() + 1);
  CHECK(lines[1].substr(0, 2) == "0,");
  for (const std::string& line : lines) CHECK(std::count(line.begin(), line.end(), ',') == 10);
}

TEST_CASE("text in tables cannot break them or run as a formula") {
  auto all = sample::comparison();
  all.designs[0].name = "=1+1,\"x\"";
  CHECK(lines_of(hydrographs_csv(all))[0].find(",\"'=1+1,\"\"x\"\":edges_m3_per_s\",") != std::string::npos);
}

TEST_CASE("rain is read stepwise and ends with the storm") {
  const auto all = sample::yard();
  CHECK(rain_at(all, -1) == 0);
  CHECK(rain_at(all, 0) == all.rain_intensity[0]);
  CHECK(rain_at(all, 2 * 3600 - 1) == all.rain_intensity[0]);
  CHECK(rain_at(all, 2 * 3600) == all.rain_intensity[1]);
  CHECK(rain_at(all, all.end_of_rain) == 0);
}

TEST_CASE("designs with different output times share all of them, linear in between") {
  CHECK(value_at({0, 10}, {1, 3}, 5) == 2);
  CHECK(value_at({0, 10}, {1, 3}, 10) == 3);
  CHECK(value_at({0, 10}, {1, 3}, 20) == 3);
  CHECK(value_at({0, 10}, {1, 3}, -5) == 1);
  CHECK(std::isnan(value_at({}, {}, 1)));
  Comparison all;
  DesignRecord a, b;
  a.name = "a";
  a.time = {0, 10};
  a.series = {{"edges_m3_per_s", {1, 3}}};
  b.name = "b";
  b.time = {0, 5, 10};
  b.series = {{"edges_m3_per_s", {0, 0, 4}}};
  all.designs = {a, b};
  CHECK(hydrographs_csv(all) ==
        "time_s,rain_m_per_s,a:edges_m3_per_s,b:edges_m3_per_s\n0,0,1,0\n5,0,2,0\n10,0,3,4\n");
}
