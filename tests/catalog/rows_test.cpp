#include "catch.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/catalog/rows.hpp>

using namespace lowspot;
using namespace lowspot::catalog;

namespace {
const CsvTable table =
    parse_csv("name,k_mm,k_low_mm,k_high_mm,wet,source,mark\na,2,1,4,yes,a book,V\nb,2,,,no,,C\n"
              "c,2,3,4,maybe,a book,seen\nd,90,,,no,a book,M\n",
              "t.csv");
RowReader row(int at) {
  return {table, table.rows[static_cast<std::size_t>(at)]};
}
} // namespace

TEST_CASE("A figure carries its range in SI, and is its own range where none is written") {
  const Figure ranged = row(0).figure("k", millimetres, {0, 50});
  CHECK(ranged.value == Approx(0.002));
  CHECK(ranged.low == Approx(0.001));
  CHECK(ranged.high == Approx(0.004));
  const Figure single = row(1).figure("k", millimetres, {0, 50});
  CHECK(single.low == single.value);
  CHECK(single.high == single.value);
  CHECK(row(0).yes("wet"));
  CHECK_FALSE(row(1).yes("wet"));
  CHECK(row(0).source().source == "a book");
  CHECK(row(0).source().mark == "V");
}

TEST_CASE("What cannot be is refused with file, line and column") {
  CHECK_THROWS_WITH(row(2).figure("k", millimetres, {0, 50}),
                    ContainsSubstring("t.csv:4: k_mm") && ContainsSubstring("outside its own range"));
  CHECK_THROWS_WITH(row(3).figure("k", millimetres, {0, 50}),
                    ContainsSubstring("t.csv:5: k_mm") && ContainsSubstring("between 0 and 50"));
  CHECK_THROWS_WITH(row(2).yes("wet"), ContainsSubstring("yes or no"));
  CHECK_THROWS_WITH(row(1).source(), ContainsSubstring("t.csv:3: source"));
  CHECK_THROWS_WITH(row(2).source(), ContainsSubstring("V, M, C or default"));
  CHECK_THROWS_AS(row(0).number("absent", plain, {0, 1}), InputError);
}
