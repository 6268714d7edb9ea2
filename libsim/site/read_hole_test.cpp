#include <lowspot/site/read_hole_test.hpp>

#include <cmath>

#include <lowspot/base/csv.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/measure/several_holes.hpp>
#include <lowspot/site/files.hpp>
#include <lowspot/site/hole_table.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {

// How well the top of the tight layer is known at a hole [m]: half an inch.
constexpr double layer_slack = 0.0127;
// A hole reaching less than this into the tight layer is mostly topsoil [m]: two inches.
constexpr double least_reach = 0.0508;

bool is_dry_season(int month) {
  return month >= 6 && month <= 9;
}

// Pores that a test fills around its hole: few after a wet spring, many in a dry summer.
measure::Range fillable_in(int month) {
  if (month == 0) return {0.05, 0.15, 0.30};
  return is_dry_season(month) ? measure::Range{0.15, 0.25, 0.35} : measure::Range{0.05, 0.10, 0.20};
}

std::string share(double part, double whole) {
  return rounded(100 * part / whole, 2) + " %";
}

class Words {
public:
  Words(const BookedHole& hole, const measure::Finding& finding, const Site& site)
      : hole_(hole), finding_(finding), site_(site) {}

  std::string conductivity() const {
    const measure::Finding& f = finding_;
    std::string text = "The water falls " + speed(f.raw_rate) + ", but the ground conducts about 1/" +
                       rounded(f.overstated, 2) + " of that, " + speed(f.conductivity.likely) + " (" +
                       speed(f.conductivity.low) + " to " + speed(f.conductivity.high) + "). In a hole " +
                       length(hole_.test.diameter) + " wide with " + length(f.water_depth) +
                       " of water only " + share(f.pull.bottom, f.pull.sum()) +
                       " of the fall is gravity through the bottom; " + share(f.pull.wall, f.pull.sum()) +
                       " is pressed out through the wall and " + share(f.pull.suction, f.pull.sum()) +
                       " drawn off by suction, and flat ground has neither.";
    if (f.emptied)
      text += " The hole was empty by the next reading, so when it ran dry is not known: half of that time "
              "is taken, "
              "and the band is wide. Fill it again and read sooner, while water still stands in it.";
    if (f.slowing) text += " The first readings fell faster, wetting the ground, and are left out.";
    if (f.excess > 1) {
      text +=
          hole_.presoak_known && hole_.test.presoak > 0 ? " The presoak was short" : " It was not presoaked";
      if (!hole_.presoak_known) text += ", as far as the table says";
      if (is_dry_season(hole_.month)) text += ", in the dry season when ground draws most";
      text += ": what dry ground takes besides, a factor of " + rounded(f.excess, 2) + ", is taken off.";
    }
    return text;
  }

  std::string without_conductivity(double topsoil) const {
    const measure::Finding& f = finding_;
    switch (f.outcome) {
    case measure::Outcome::perched:
      return std::string(f.rose ? "The water rose to " : "The water came to rest at ") +
             length(f.resting_at) +
             " above the bottom: water perched in the ground runs in. This is not slow soil, and the hole "
             "gives no "
             "conductivity. Bail it and look again in a day: where it stands is the water table. (If it was "
             "filled "
             "up between readings, write refilled into the note.)";
    case measure::Outcome::no_fall:
      return "No fall could be read, so the ground conducts less than " + speed(f.conductivity.high) +
             ", or ground water holds the level up. Leave the hole empty overnight: water in it is ground "
             "water. "
             "Else read again after a day.";
    case measure::Outcome::empty:
      return "Hardly any water stood in the hole when it was read, so nothing is known of the ground. Fill "
             "it and read sooner, while water still stands in it.";
    default:
      return "The water stood in the topsoil too, so its fall speaks for neither layer. Repeat it with the "
             "water no "
             "higher than the top of the tight layer, " +
             length(std::max(0.0, hole_.depth - topsoil)) + " above the bottom" +
             (hole_.depth - topsoil < least_reach ? ", in a deeper hole." : ".");
    }
  }

private:
  std::string speed(double value) const { return written(value, Dimension::speed, site_); }
  std::string length(double value) const { return written(value, Dimension::length, site_); }

  const BookedHole& hole_;
  const measure::Finding& finding_;
  const Site& site_;
};

HoleTest reduce_hole(const TableReader& table, BookedHole& hole, const Soil& soil) {
  const double topsoil = soil.depth.likely;
  const bool tight =
      !(hole.depth <= topsoil + layer_slack); // a depth that is not given is taken as deep enough
  if (tight && std::isfinite(hole.depth))
    hole.test.most_water_depth = hole.depth - topsoil < least_reach ? 0 : hole.depth - topsoil + layer_slack;
  hole.test.fillable = fillable_in(hole.month);
  const measure::Finding finding = measure::reduce(hole.test);

  HoleTest result;
  result.name = hole.name;
  result.line = hole.line;
  result.diameter = hole.test.diameter;
  result.depth = hole.depth;
  const Words words(hole, finding, table.context().site);
  if (finding.outcome != measure::Outcome::conductivity) {
    if (finding.outcome != measure::Outcome::other_layer) result.layer = tight ? "tight layer" : "topsoil";
    result.water_depth = finding.water_depth;
    result.says = words.without_conductivity(topsoil);
    return result;
  }
  result.layer = tight ? "tight layer" : "topsoil";
  result.used = true;
  result.water_depth = finding.water_depth;
  result.raw_rate = finding.raw_rate;
  result.conductivity = {finding.conductivity.low, finding.conductivity.likely, finding.conductivity.high};
  result.says = words.conductivity();
  return result;
}

// What the holes of one layer say together; empty without any.
std::optional<Band> combine_layer(const TableReader& table, Soil& soil, const std::string& layer) {
  const Site& site = table.context().site;
  std::vector<measure::Range> bands;
  for (const HoleTest& hole : soil.holes)
    if (hole.used && hole.layer == layer)
      bands.push_back({hole.conductivity.low, hole.conductivity.likely, hole.conductivity.high});
  if (bands.empty()) return {};
  const measure::Together all = measure::combine(bands);
  const Band average{all.average.low, all.average.likely, all.average.high};
  const Band anywhere{all.anywhere.low, all.anywhere.likely, all.anywhere.high};
  const bool worth = all.next_narrows >= measure::worth_digging;
  soil.holes_say.push_back(
      layer + ": " + std::to_string(all.holes) + (all.holes == 1 ? " hole says " : " holes say ") +
      written(average, Dimension::speed, site) + " for the yard on the average and " +
      written(anywhere, Dimension::speed, site) +
      " at any one place, such as the low spot, which is the band used. One more hole would narrow the "
      "average's band "
      "by " +
      rounded(100 * all.next_narrows, 2) +
      " %: " + (worth ? "worth digging (stop when it is under " : "not worth digging (it is under ") +
      rounded(100 * measure::worth_digging, 2) + " %).");
  return anywhere;
}

} // namespace

MeasuredConductivity read_hole_test(const TableReader& table, Soil& soil) {
  if (!table.has("hole_test")) return {};
  const std::string name = file_named(table, "hole_test");
  std::vector<BookedHole> booked = read_hole_table(read_csv(table.context().site.folder / name));
  std::string unsoaked, undated_depth;
  for (BookedHole& hole : booked) {
    soil.holes.push_back(reduce_hole(table, hole, soil));
    const std::string quoted = "\"" + hole.name + "\"";
    if (!hole.presoak_known) unsoaked += (unsoaked.empty() ? "" : ", ") + quoted;
    if (std::isnan(hole.depth)) undated_depth += (undated_depth.empty() ? "" : ", ") + quoted;
    if (!soil.holes.back().used) table.warn("hole_test", "hole " + quoted + ": " + soil.holes.back().says);
  }
  if (!undated_depth.empty())
    table.assume("hole_test.depth", "below the topsoil (hole " + undated_depth + ")");
  if (!unsoaked.empty()) table.assume("hole_test.presoak", "none (hole " + unsoaked + ")");
  const measure::Range& sorptive = measure::usual_sorptive_number;
  table.assume("hole_test.sorptive_number", rounded(sorptive.likely) + " 1/m (" + rounded(sorptive.low) +
                                                " to " + rounded(sorptive.high) + ")");
  MeasuredConductivity result;
  result.topsoil = combine_layer(table, soil, "topsoil");
  result.tight_layer = combine_layer(table, soil, "tight layer");
  return result;
}

std::optional<Band> given_or_measured(const TableReader& layer, const std::optional<Band>& given,
                                      const std::optional<Band>& measured) {
  Site& site = layer.context().site;
  if (!measured) return given;
  if (given) {
    layer.warn("conductivity", written(*given, Dimension::speed, site) +
                                   " is used although the hole test gives " +
                                   written(*measured, Dimension::speed, site) +
                                   "; remove this line to use what was measured");
    return given;
  }
  site.assumptions.push_back(
      {layer.path("conductivity"), written(*measured, Dimension::speed, site) + " (hole test)", "measured"});
  return measured;
}

} // namespace lowspot::site
