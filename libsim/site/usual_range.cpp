#include <lowspot/site/usual_range.hpp>

#include <lowspot/site/wording.hpp>

namespace lowspot::site {

void warn_outside(const TableReader& table, const std::string& key, double value, const UsualRange& range) {
  const bool small = value<range.least*(1 - 1e-9), large = value> range.most * (1 + 1e-9);
  if (!small && !large) return;
  const Site& site = table.context().site;
  table.warn(key, written(value, range.dimension, site) + " is " + (small ? "less than " : "more than ") +
                      written(small ? range.least : range.most, range.dimension, site) +
                      ", beyond what yards have, so " + (small ? range.too_small : range.too_large) +
                      "; check the figure and its unit");
}

namespace usual {
namespace {
constexpr double inch = 0.0254, foot = 0.3048;
constexpr double none = std::numeric_limits<double>::infinity();
constexpr auto length = Dimension::length;
constexpr auto speed = Dimension::speed;
} // namespace

// The upper limits are what the trade builds and sells, with room to spare; the lower ones what still works.
const UsualRange topsoil_depth = {length, inch, "it is full after the first minutes of a storm", none, ""};
const UsualRange crust_thickness = {length, 0, "", 2 * inch,
                                    "it holds the rain back as a whole layer of soil would"};
const UsualRange tight_thickness = {length, inch,
                                    "water that stands over it leaks through many times faster than its "
                                    "conductivity says",
                                    none, ""};
const UsualRange joint_conductivity = {speed, 0, "", 2000 * inch / 3600,
                                       "the joints never limit what goes in between the slabs"};
const UsualRange seep_thickness = {length, 0, "", 4 * foot,
                                   "far more water comes in underground than topsoil can carry"};
const UsualRange wall_height = {length, 0.5 * inch, "it hardly holds water back", 12 * foot,
                                "no water ever passes over it"};
const UsualRange pipe_diameter = {length, inch, "hardly any water runs through it", 2 * foot,
                                  "the pipe never limits the drain"};
const UsualRange pipe_openings = {Dimension::area_per_length, 0, "", 0.03,
                                  "the openings never limit what gets into the pipe"};
const UsualRange stone_conductivity = {speed, 1e-4, "it holds water back as sand does", 2,
                                       "the stone never limits the drain"};
const UsualRange fabric_permittivity = {Dimension::per_time, 1e-3, "hardly any water gets through it", 20,
                                        "the fabric never limits the drain"};
const UsualRange cap_conductivity = {speed, 1e-4 * inch / 3600, "no water gets through it to the stone", 2,
                                     "the cap never limits the drain"};
const UsualRange cleanout = {length, inch, "it lets nothing out", foot,
                             "it lets the drain out onto the ground as an open pit would"};
const UsualRange well_diameter = {length, 6 * inch, "it holds next to nothing", 12 * foot,
                                  "the pit takes the rain of a whole lot"};
const UsualRange well_depth = {length, 6 * inch, "it holds next to nothing", 15 * foot,
                               "the pit takes the rain of a whole lot, and nobody digs it"};
const UsualRange basin_diameter = {length, 6 * inch, "the pump starts and stops all the time", 6 * foot,
                                   "the basin takes the rain of a whole lot before the pump has to run"};
const UsualRange basin_depth = {length, 6 * inch, "the pump starts and stops all the time", 12 * foot,
                                "the basin takes the rain of a whole lot before the pump has to run"};
const UsualRange pump_rate = {Dimension::flow, 0, "", 0.0315, // 500 gal/min
                              "the pump never limits the drain"};
const UsualRange opening_head = {length, 0, "", foot, "the lid stays shut and water comes up elsewhere"};
const UsualRange weep = {length, 0, "", inch, "the drain runs out through it and the lid hardly matters"};
const UsualRange grate_side = {length, inch, "hardly any water gets in", 4 * foot,
                               "the grate takes in whatever comes"};
const UsualRange inlet_sump = {length, 0, "", 4 * foot, "the box holds a storm by itself, and never empties"};
const UsualRange channel_width = {length, 0.5 * inch, "hardly any water gets in", 2 * foot,
                                  "the channel takes in whatever comes"};
const UsualRange channel_depth = {length, 0.5 * inch, "hardly any water runs along it", 3 * foot,
                                  "the channel holds a storm by itself"};
const UsualRange swale_width = {length, inch, "its bed is narrower than a spade", 50 * foot,
                                "it reshapes the yard as a whole"};
const UsualRange depth_loosened = {length, 0, "", 4 * foot,
                                   "the ground takes in a whole storm and more, and nobody digs it over"};
const UsualRange front_suction = {length, 0.1 * inch, "dry ground drinks too little of a storm", 6 * foot,
                                  "dry ground drinks a whole storm"};
const UsualRange cap_lift = {length, 0, "", 3 * foot,
                             "the cap never lifts and the cleanout lets nothing out"};
const UsualRange channel_capacity = {Dimension::flow, 0, "", 0.0315, // 500 gal/min
                                     "the channel never limits what it takes in"};
const UsualRange fabric_lap = {length, 0, "", 4 * foot, "far more fabric is ordered than the trench takes"};
const UsualRange sod_margin = {length, 0, "", 10 * foot, "far more sod is ordered than the trench disturbs"};
const UsualRange pipe_piece = {length, foot, "hundreds of pieces are joined", 1000 * foot,
                               "one piece is ordered, longer than any that is sold"};
const UsualRange truck = {Dimension::volume, 0.1, "a load is less than a barrow or two", 50,
                          "one load brings and takes all"};

} // namespace usual
} // namespace lowspot::site
