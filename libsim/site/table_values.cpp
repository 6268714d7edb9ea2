// Numbers, quantities and bands of a table.
#include <algorithm>
#include <cmath>

#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/table_reader.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
std::optional<double> as_number(const toml::node& node) {
  if (const auto* value = node.as_integer()) return static_cast<double>(value->get());
  if (const auto* value = node.as_floating_point()) return value->get();
  return std::nullopt;
}
std::string expected_of(Dimension dimension) {
  return a_quantity(dimension) + " with its unit";
}
std::string example_of(const std::string& key, Dimension dimension) {
  // A bank is told as one down to so many across; a fall of pipes and ground is not.
  const std::string example = key == "side_slope" ? "\"1:3\"" : dimension_example(dimension);
  return "Write it in quotes with its unit, for example " + key + " = " + example + ".";
}
} // namespace

double TableReader::parsed(const std::string& key, const toml::node& node, Dimension dimension,
                           Range range) const {
  const std::string mend = example_of(key, dimension);
  const auto* value = node.as_string();
  if (!value) {
    const bool bare = as_number(node).has_value();
    fail(key, shown(node) + (bare ? " without a unit" : ""), expected_of(dimension), mend);
  }
  const ParsedQuantity result = parse_quantity(value->get(), dimension);
  if (!result.ok) fail(key, shown(node) + " (" + result.problem + ")", expected_of(dimension), mend);
  if (range == Range::not_negative && result.value < 0)
    fail(key, shown(node), a_quantity(dimension) + " of zero or more", "Remove the minus sign.");
  if (range == Range::positive && !(result.value > 0))
    fail(key, shown(node), a_quantity(dimension) + " above zero", mend);
  if (dimension == Dimension::time && result.value > limits::longest_time)
    fail(key, shown(node), "a time of at most three years", "Check the figure and its unit.");
  return result.value;
}

double TableReader::quantity(const std::string& key, Dimension dimension, Range range) const {
  return parsed(key, required(key, expected_of(dimension)), dimension, range);
}

std::optional<double> TableReader::maybe_quantity(const std::string& key, Dimension dimension,
                                                  Range range) const {
  const toml::node* node = find(key);
  if (!node) return std::nullopt;
  return parsed(key, *node, dimension, range);
}

double TableReader::quantity_or(const std::string& key, Dimension dimension, const std::string& otherwise,
                                Range range) const {
  if (const auto value = maybe_quantity(key, dimension, range)) return *value;
  const double value = parse_quantity(otherwise, dimension).value;
  // The usual figures are those of the trade, in inches; a yard in metres is told them in its own.
  const bool told_in_metres = dimension == Dimension::length && context().site.units == "m";
  assume(key, told_in_metres ? written(value, dimension, context().site) : otherwise);
  return value;
}

Band TableReader::sorted_band(const std::string& key, std::vector<double> values) const {
  if (values.size() != 3)
    fail(key, "a list of " + std::to_string(values.size()), "one value, or three as low, likely and high",
         "Write [low, likely, high], or a single value without brackets.");
  if (!(values[0] <= values[1] && values[1] <= values[2]))
    fail(key, "three values out of order", "low, likely and high in rising order",
         "Sort them: the smallest first, the likely one in the middle.");
  return {values[0], values[1], values[2]};
}

std::optional<Band> TableReader::maybe_band(const std::string& key, Dimension dimension, Range range) const {
  const toml::node* node = find(key);
  if (!node) return std::nullopt;
  const auto* array = node->as_array();
  if (!array) {
    const double value = parsed(key, *node, dimension, range);
    return Band{value, value, value};
  }
  std::vector<double> values;
  for (const toml::node& entry : *array) values.push_back(parsed(key, entry, dimension, range));
  const Band band = sorted_band(key, std::move(values));
  if (band.is_band() && band.low <= 0)
    fail(key, "a band that begins at zero", "a low value above zero",
         "Write the smallest value you believe in, or a single value of zero without a band.");
  return band;
}

double TableReader::plain_number(const std::string& key, const toml::node& node, double least,
                                 double most) const {
  const std::string limits = "a number from " + rounded(least, 4) + " to " + rounded(most, 4);
  std::optional<double> value = as_number(node);
  if (const auto* words = node.as_string()) {
    const std::string content = trim(words->get());
    const ParsedQuantity share = parse_quantity(content, Dimension::slope);
    if (!content.empty() && content.back() == '%' && share.ok) value = share.value;
  }
  if (!value) fail(key, shown(node), limits, "This has no unit: write the bare number, without quotes.");
  if (!std::isfinite(*value) || *value < least || *value > most)
    fail(key, shown(node), limits, "Check the figure and its place of the decimal point.");
  return *value;
}

double TableReader::number(const std::string& key, double least, double most) const {
  return plain_number(key, required(key, "a number"), least, most);
}

std::optional<double> TableReader::maybe_number(const std::string& key, double least, double most) const {
  const toml::node* node = find(key);
  if (!node) return std::nullopt;
  return plain_number(key, *node, least, most);
}

std::optional<Band> TableReader::maybe_number_band(const std::string& key, double least, double most) const {
  const toml::node* node = find(key);
  if (!node) return std::nullopt;
  const auto* array = node->as_array();
  if (!array) {
    const double value = plain_number(key, *node, least, most);
    return Band{value, value, value};
  }
  std::vector<double> values;
  for (const toml::node& entry : *array) values.push_back(plain_number(key, entry, least, most));
  return sorted_band(key, std::move(values));
}

std::optional<double> TableReader::maybe_elevation(const std::string& key) const {
  const toml::node* node = find(key);
  if (!node) return std::nullopt;
  return coordinate(key, *node);
}

double TableReader::coordinate(const std::string& key, const toml::node& node) const {
  const auto value = as_number(node);
  const std::string units = context_->site.units;
  if (!value)
    fail(key, shown(node), "a bare number in " + units,
         "Coordinates and elevations are bare numbers in the site's units: write 12.5, not \"12.5 ft\".");
  if (!std::isfinite(*value))
    fail(key, "a number that is not finite", "a number in " + units, "Write the figure.");
  if (std::abs(*value) > 1e8)
    fail(key, shown(node), "a coordinate within 100 million " + units + " of the origin",
         "Check the figure; coordinates this far out lose the inches.");
  return *value * context_->site.unit;
}

} // namespace lowspot::site
