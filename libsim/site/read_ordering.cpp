// [takeoff] and [[rate]]: how quantities become orders, and what the user pays for them.
#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/usual_range.hpp>

namespace lowspot::site {
namespace {
const std::vector<std::string> units = {"ft",  "m",     "ft2",  "m2",   "yd3", "m3",
                                        "ton", "tonne", "load", "hour", "each"};

void read_rate(const TableReader& table, Ordering& ordering) {
  Rate rate;
  rate.item = table.text("item", "what the take-off calls it, such as \"sod\"");
  rate.line = table.where("item").line; // what is said of it later is about the item
  rate.price = table.number("price", 0, 1e9);
  rate.per = table.word("per", units);
  table.done();
  for (const Rate& other : ordering.rates)
    if (lower(other.item) == lower(rate.item)) // as the take-off looks them up
      table.fail("item",
                 "a second price for \"" + other.item + "\"" +
                     (other.item == rate.item ? "" : ", written \"" + rate.item + "\""),
                 "one price an item, capitals aside", "Remove one of them.");
  ordering.rates.push_back(std::move(rate));
}
} // namespace

void read_ordering(const TableReader& root, Context& context) {
  Ordering& ordering = context.site.ordering;
  const TableReader table = root.table_or_empty("takeoff");
  const auto share = [&](const char* key, double& value) {
    if (const auto given = table.maybe_number(key, 0, 1)) value = *given;
  };
  const auto length = [&](const char* key, double& value, Range range, const UsualRange& usual) {
    if (const auto given = table.maybe_quantity(key, Dimension::length, range))
      value = *given, warn_outside(table, key, value, usual);
  };
  share("pipe_waste", ordering.pipe_waste);
  share("stone_waste", ordering.stone_waste);
  share("fabric_waste", ordering.fabric_waste);
  share("sod_waste", ordering.sod_waste);
  length("fabric_lap", ordering.fabric_lap, Range::not_negative, usual::fabric_lap);
  length("sod_margin", ordering.sod_margin, Range::not_negative, usual::sod_margin);
  length("pipe_piece", ordering.pipe_piece, Range::positive, usual::pipe_piece);
  if (const auto swell = table.maybe_number("swell", 0, 3)) {
    if (*swell < 1)
      table.fail("swell", rounded(*swell), "1 to 3, the loose earth that one in the ground becomes",
                 "Write " + rounded(1 + *swell) + " where it swells by " + rounded(100 * *swell) + " %.");
    ordering.swell = *swell;
  }
  if (const auto truck = table.maybe_quantity("truck", Dimension::volume, Range::positive))
    ordering.truck = *truck, warn_outside(table, "truck", *truck, usual::truck);
  if (const auto rate = table.maybe_quantity("dig_rate", Dimension::speed, Range::positive))
    ordering.dig_rate = *rate;
  ordering.currency = table.maybe_text("currency").value_or(ordering.currency);
  table.done();
  for (const TableReader& rate : root.tables("rate")) read_rate(rate, ordering);
}

} // namespace lowspot::site
