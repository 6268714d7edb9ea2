#include "catch.hpp"
#include "figures.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <stdexcept>

#include <lowspot/base/csv.hpp>
#include <lowspot/rain/nrcs.hpp>

using namespace lowspot;
using namespace lowspot::rain;

TEST_CASE("The storms are those of the catalogue's table, ordinate by ordinate") {
  const CsvTable table =
      read_csv(std::filesystem::path(LOWSPOT_SOURCE_DATA) / "catalog" / "storms_nrcs24.csv");
  for (const char* type : {"i", "ia", "ii", "iii"}) {
    const DayDistribution storm = nrcs_distribution(type);
    const std::string column = std::string("type_") + type;
    std::size_t count = 0;
    for (const CsvRow& row : table.rows) {
      if (table.text(row, column).empty()) continue;
      INFO(column << " at " << table.number(row, "hour"));
      CHECK(storm.at(table.number(row, "hour")) == Approx(table.number(row, column)).margin(1e-12));
      figures::record("rain", "24-hour storms of the catalogue, four types", "share of the day fallen",
                      table.number(row, column), storm.at(table.number(row, "hour")), figures::amount(1e-12));
      ++count;
    }
    CHECK(count == storm.hour.size());
  }
}

TEST_CASE("Type II near noon, and shares that rise from nothing to all") {
  const DayDistribution two = nrcs_distribution("ii");
  CHECK(two.at(11.5) == Approx(0.2833));
  CHECK(two.at(11.9) == Approx(0.5679)); // half-hourly steps would give 0.587
  CHECK(two.at(12.0) == Approx(0.6632));
  for (const char* type : {"i", "ia", "ii", "iii"}) {
    const DayDistribution storm = nrcs_distribution(type);
    CHECK(storm.at(-1) == 0);
    CHECK(storm.at(0) == 0);
    CHECK(storm.at(24) == 1);
    CHECK(storm.at(30) == 1);
    for (std::size_t k = 1; k < storm.hour.size(); ++k) {
      CHECK(storm.hour[k] > storm.hour[k - 1]);
      CHECK(storm.share[k] > storm.share[k - 1]);
    }
  }
}

TEST_CASE("Between two ordinates rain falls at an even rate") {
  for (const char* type : {"i", "ia", "ii", "iii"}) {
    const DayDistribution storm = nrcs_distribution(type);
    for (std::size_t k = 1; k < storm.hour.size(); ++k) {
      const double from = storm.hour[k - 1], to = storm.hour[k];
      const double low = storm.share[k - 1], gain = storm.share[k] - low;
      for (const double part : {0.125, 0.5, 0.8}) {
        INFO(type << ", " << part << " of the way after hour " << from);
        CHECK(storm.at(from + part * (to - from)) == Approx(low + part * gain).margin(1e-12));
      }
    }
  }
}

// An ordinate written down wrong, here and in the catalogue alike, makes a notch in the rate.
TEST_CASE("Rain grows heavier up to one burst and lighter after it, to the last digit of the ordinates") {
  struct Shape {
    const char* type;
    double digit;           // of the ordinates
    double burst, heaviest; // when the burst begins [h], and its rate as a share of the day an hour
  };
  for (const Shape& shape : {Shape{"i", 1e-3, 9.5, 0.424}, Shape{"ia", 1e-3, 7.5, 0.23},
                             Shape{"ii", 1e-4, 11.8, 1.371}, Shape{"iii", 1e-4, 11.5, 0.404}}) {
    const DayDistribution storm = nrcs_distribution(shape.type);
    double heaviest = 0, before = 0;
    for (std::size_t k = 1; k < storm.hour.size(); ++k) {
      const double from = storm.hour[k - 1], length = storm.hour[k] - from;
      const double rate = (storm.share[k] - storm.share[k - 1]) / length;
      INFO(shape.type << " from hour " << from);
      const double rounding = 1.01 * shape.digit / length; // each ordinate is off by half a digit at most
      if (from <= shape.burst + 1e-9) CHECK(rate >= before - rounding);
      if (from > shape.burst + 1e-9) CHECK(rate <= before + rounding);
      heaviest = std::max(heaviest, rate);
      if (std::abs(from - shape.burst) < 1e-9) CHECK(rate == Approx(shape.heaviest));
      before = rate;
    }
    CHECK(heaviest == Approx(shape.heaviest));
  }
}

TEST_CASE("Type III is symmetric about noon") {
  const DayDistribution three = nrcs_distribution("iii");
  for (double hour = 0; hour <= 12; hour += 0.5)
    CHECK(three.at(hour) + three.at(24 - hour) == Approx(1).margin(0.0011));
}

TEST_CASE("A distribution of no type has no depths") {
  CHECK(nrcs_distribution("iv").hour.empty());
  CHECK(nrcs_distribution("").hour.empty());
  CHECK_THROWS_AS(nrcs_distribution("iv").at(12), std::invalid_argument);
}
