#include <lowspot/catalog/tables.hpp>

#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>

#include <lowspot/base/error.hpp>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::catalog;

namespace {
std::vector<PracticeLimit> read_text_as_limits(const std::string& rows) {
  const std::filesystem::path file =
      std::filesystem::temp_directory_path() / ("lowspot-limits-" + std::to_string(::getpid()) + ".csv");
  std::ofstream(file) << "name,limit,kind,sense,meaning,source,mark\n" << rows;
  return read_limits(file);
}
} // namespace

TEST_CASE("limits are read by their kind, in SI") {
  const auto limits = read_text_as_limits("cover,6 in,length,at least,ground over pipe,a code,V\n"
                                          "speed,1.4 ft/s,velocity,at least,silt moves,a text,M\n"
                                          "fall,6 in per 10 ft,slope,at least,from the house,a code,V\n"
                                          "full,80 %,share,at most,of the pipe,practice,M\n"
                                          "roots,12,multiple,at least,of the trunk,practice,M\n"
                                          "frost,ask,length,at least,depth,the office,M\n"
                                          "empty,48 hr,time,at most,after the rain,practice,M\n");
  REQUIRE(limits.size() == 7);
  CHECK(limits[6].value == 48 * 3600);
  CHECK(limits[0].value == Approx(0.1524));
  CHECK(limits[0].at_least);
  CHECK(limits[1].value == Approx(1.4 * 0.3048));
  CHECK(limits[2].value == Approx(0.05));
  CHECK(limits[3].value == Approx(0.8));
  CHECK_FALSE(limits[3].at_least);
  CHECK(limits[4].value == 12);
  CHECK(std::isnan(limits[5].value));
  CHECK(limits[5].written.empty());
}

TEST_CASE("a damaged row of limits is refused") {
  CHECK_THROWS_AS(read_text_as_limits("cover,6,length,at least,x,y,V\n"), InputError);   // no unit
  CHECK_THROWS_AS(read_text_as_limits("cover,2 %,length,at least,x,y,V\n"), InputError); // wrong dimension
  CHECK_THROWS_AS(read_text_as_limits("cover,6 in,depth,at least,x,y,V\n"), InputError); // no such kind
  CHECK_THROWS_AS(read_text_as_limits("cover,6 in,length,about,x,y,V\n"), InputError);   // no such sense
  CHECK_THROWS_AS(read_text_as_limits("roots,12 in,multiple,at least,x,y,V\n"), InputError); // not bare
}

TEST_CASE("every limit that ships can be read back from its own text") {
  const auto limits = read_limits(std::filesystem::path(LOWSPOT_SOURCE_DATA) / "catalog" / "limits.csv");
  CHECK(limits.size() > 20);
  for (const PracticeLimit& limit : limits) {
    INFO(limit.name);
    if (!limit.written.empty()) CHECK(read_limit(limit.kind, limit.written) == limit.value);
    CHECK_FALSE(limit.from.source.empty());
  }
}
