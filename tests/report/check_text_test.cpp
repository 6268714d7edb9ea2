#include "catch.hpp"

#include <lowspot/report/check_text.hpp>

using namespace lowspot;
using report::check_found;

namespace {

struct Sides {
  site::Site site;
  results::Comparison all;
  results::CheckRecord check;
  Sides() {
    site.units = "m";
    site.outline = {{0, 0}, {20, 0}, {20, 10}, {0, 10}};
    site::Outlet outlet;
    outlet.name = "pipe";
    outlet.kind = "daylight";
    outlet.at = {10, 0};
    site::Design design;
    design.name = "drain";
    design.outlets = {outlet};
    site.designs = {design};
    all.grid.cell = 0.5;
    results::DesignRecord as_is, built;
    as_is.name = "as is";
    as_is.edges = built.edges = {{"west", 0, 0}, {"south", 2e-3, 1.65}};
    built.name = "drain";
    built.outlets = {{"pipe", 1e-3, 0.15}};
    built.ledger.left_by_drains = 0.15;
    all.designs = {as_is, built};
    check.id = "neighbour_increase";
    check.about = "south";
    check.found = "in all 1.65 m3 before, 1.8 m3 after";
  }
  std::string found() const { return check_found(check, all.designs.back(), all, site); }
};

} // namespace

TEST_CASE("what leaves over a side is said in the units of the page's tables") {
  Sides data;
  CHECK(data.found() == "at once 2 L/s before, 3 L/s after; in all 1650 L before, 1800 L after");
  data.site.units = "ft";
  CHECK(data.found() ==
        "at once 31.7 gal/min before, 47.6 gal/min after; in all 436 gal before, 476 gal after");
}

TEST_CASE("what no table of the page says stays as the check says it") {
  Sides data;
  data.check.about = "outside the yard";
  CHECK(data.found() == data.check.found);
  data.check.about = "south";
  data.check.id = "pipe_cover";
  CHECK(data.found() == data.check.found);
}
