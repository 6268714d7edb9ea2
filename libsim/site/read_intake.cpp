#include <lowspot/site/read_intake.hpp>

#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/site/under_buildings.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {

double share_or(const TableReader& table, const std::string& key, double otherwise) {
  if (const auto given = table.maybe_number(key, 0, 0.99)) return *given;
  table.assume(key, rounded(100 * otherwise, 2) + " %");
  return otherwise;
}

void read_shares(const TableReader& table, Grate& grate) {
  grate.open_share = share_or(table, "open_share", 0.5);
  if (grate.open_share <= 0)
    table.fail("open_share", "0", "a share above zero", "Half of a common grate is clear of bars.");
  grate.debris = share_or(table, "debris", 0.5);
}

} // namespace

double level_gutter_capacity(double width, double depth) {
  const double critical = depth / std::sqrt(3.0);
  return width * std::sqrt(9.81 * critical * critical * critical);
}

Fitting read_fitting(const TableReader& table) {
  Fitting fitting;
  fitting.line = table.line();
  fitting.name = table.text("name", "a name that runs can refer to");
  fitting.at = table.point("at");
  if (const auto loss = table.maybe_number("loss", 0, 20)) fitting.loss = *loss;
  if (const auto cleanout = table.maybe_quantity("cleanout", Dimension::length, Range::positive)) {
    fitting.cleanout = *cleanout;
    warn_outside(table, "cleanout", *cleanout, usual::cleanout);
    fitting.lift = table.quantity_or("lift", Dimension::length, "2 in");
    warn_outside(table, "lift", fitting.lift, usual::cap_lift);
  } else if (table.has("lift"))
    table.warn("lift", "is not used: it is the head that lifts the cap of a `cleanout`");
  table.done();
  require_inside(table, "at", fitting.at);
  return fitting;
}

Inlet read_inlet(const TableReader& table, std::size_t number) {
  const Site& site = table.context().site;
  Inlet inlet;
  inlet.line = table.line();
  inlet.name = table.maybe_text("name").value_or("inlet " + std::to_string(number));
  inlet.at = table.point("at");
  require_inside(table, "at", inlet.at);
  refuse_under_building(table, "at", inlet.at);
  if (const auto size = table.maybe_quantity("size", Dimension::length, Range::positive)) {
    inlet.grate.width = inlet.grate.length = *size;
    for (const char* key : {"width", "length"})
      if (table.has(key)) table.warn(key, "is not used, since `size` says the sides of a square grate");
  } else {
    inlet.grate.width =
        table.quantity_or("width", Dimension::length, usual_size(12, table.context().site), Range::positive);
    inlet.grate.length =
        table.quantity_or("length", Dimension::length, usual_size(12, table.context().site), Range::positive);
  }
  const bool square = table.has("size");
  warn_outside(table, square ? "size" : "width", inlet.grate.width, usual::grate_side);
  if (!square) warn_outside(table, "length", inlet.grate.length, usual::grate_side);
  read_shares(table, inlet.grate);
  inlet.sump = table.quantity_or("sump", Dimension::length, usual_size(4, table.context().site));
  warn_outside(table, "sump", inlet.sump, usual::inlet_sump);
  inlet.pipe = table.quantity_or("pipe", Dimension::length, "4 in", Range::positive);
  warn_outside(table, "pipe", inlet.pipe, usual::pipe_diameter);
  if (const auto depth = table.maybe_quantity("depth", Dimension::length, Range::positive)) {
    inlet.depth = *depth;
    if (inlet.depth < inlet.pipe)
      table.fail("depth", written(inlet.depth, Dimension::length, site),
                 "room for the pipe that leaves the box, " + written(inlet.pipe, Dimension::length, site),
                 "It is the depth of that pipe's bottom under the ground.");
  } else
    table.assume("depth", "that of what it drains to");
  inlet.to = table.maybe_text("to").value_or("");
  table.done();
  return inlet;
}

Channel read_channel(const TableReader& table, std::size_t number) {
  Channel channel;
  channel.line = table.line();
  channel.name = table.maybe_text("name").value_or("channel " + std::to_string(number));
  channel.path = table.line_of_points("path");
  require_inside(table, "path", channel.path);
  warn_under_building(table, "path", channel.path);
  channel.width =
      table.quantity_or("width", Dimension::length, usual_size(4, table.context().site), Range::positive);
  channel.depth =
      table.quantity_or("depth", Dimension::length, usual_size(4, table.context().site), Range::positive);
  warn_outside(table, "width", channel.width, usual::channel_width);
  warn_outside(table, "depth", channel.depth, usual::channel_depth);
  channel.grate.width = channel.width;
  channel.grate.length = length(channel.path);
  read_shares(table, channel.grate);
  if (const auto capacity = table.maybe_quantity("capacity", Dimension::flow, Range::positive))
    channel.capacity = *capacity, warn_outside(table, "capacity", *capacity, usual::channel_capacity);
  else {
    channel.capacity = level_gutter_capacity(channel.width, channel.depth);
    table.assume("capacity", written(channel.capacity, Dimension::flow, table.context().site) +
                                 " (a level trough running free at its end)");
  }
  channel.to = table.text("to", "the run, fitting or dry well at its end");
  table.done();
  return channel;
}

} // namespace lowspot::site
