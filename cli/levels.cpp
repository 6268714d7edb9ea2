#include <cmath>
#include <cstdio>
#include <map>
#include <memory>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/report/levels_picture.hpp>
#include <lowspot/report/levels_words.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/results/json_tools.hpp>
#include <lowspot/terrain/level_review.hpp>

#include "commands.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct LevelsArguments {
  std::string where, out;
};

class Printer {
public:
  Printer(const Context& context, const site::Site& site, const terrain::LevelReview& review)
      : context_(context), site_(site), review_(review), units_(report::units_for(site.units)) {}

  void print() const {
    std::printf("%s\n", context_.terminal.bold(wrap(report::levels_sentence(review_, site_))).c_str());
    if (review_.book.rod_book) {
      print_setups();
      print_closures();
    }
    print_wrong();
    print_next();
    print_shots();
  }

private:
  std::string elevation(double metres) const {
    return report::fixed(metres / site_.unit, site_.units == "m" ? 3 : 2);
  }
  std::string signed_length(double metres) const {
    if (std::isnan(metres)) return "-";
    const std::string text = report::fixed(metres / site_.unit, 3);
    return metres > 0 ? "+" + text : text;
  }
  std::string place(const Point& at) const {
    return report::fixed(at.x / site_.unit, 1) + ", " + report::fixed(at.y / site_.unit, 1);
  }
  void head(const std::string& text) const { std::printf("\n%s\n", context_.terminal.bold(text).c_str()); }

  void print_setups() const {
    head("Set-ups (" + site_.units + ")");
    std::printf("  %-4s %-16s %10s %22s\n", "", "backsight on", "reading", "height of instrument");
    for (std::size_t k = 0; k < review_.book.set_ups.size(); ++k) {
      const terrain::SetUp& setup = review_.book.set_ups[k];
      std::printf("  %-4zu %-16s %10s %22s\n", k + 1, setup.on.c_str(), elevation(setup.backsight).c_str(),
                  elevation(setup.instrument).c_str());
    }
  }

  // A misclosure of a round size is a slip in one of the readings that carry the height on.
  std::string round_slip(const terrain::Closure& closure) const {
    const double size = std::abs(closure.misclosure);
    for (double round :
         site_.units == "m" ? std::vector<double>{0.1, 1, 10} : std::vector<double>{0.1524, 0.3048, 3.048})
      if (std::abs(size - round) <= closure.allowed)
        return " It is nearly " + report::small_height(round, site_) +
               ": look first for a slip of that size in a backsight or foresight.";
    return "";
  }

  void print_closures() const {
    head("Closure");
    if (review_.book.closures.empty())
      std::printf("  %s\n",
                  wrap("No known point was shot again. End the book with a foresight on the benchmark: "
                       "without it a slip shifts everything that follows and nobody sees it.",
                       94, 2)
                      .c_str());
    for (const terrain::Closure& closure : review_.book.closures) {
      std::string text = "On \"" + closure.name + "\" (line " + std::to_string(closure.line) +
                         "): missed by " + report::small_height(closure.misclosure, site_) + " (" +
                         signed_length(closure.misclosure) + " " + site_.units + ") over " +
                         std::to_string(closure.setups) + (closure.setups == 1 ? " set-up; " : " set-ups; ") +
                         report::small_height(closure.allowed, site_) + " is allowed. ";
      if (!closure.spread)
        text += "It was not spread: it is too large to be the sum of small errors." + round_slip(closure) +
                (review_.check.steps.empty() ? " No shot shows where: it may be the closing reading itself."
                                             : "");
      else if (closure.misclosure != 0)
        text += "It was spread evenly over the set-ups, since each adds its own small error: shots from "
                "set-up k of n "
                "were moved by k/n of it.";
      std::printf("  %s\n", wrap(text, 2).c_str());
    }
  }

  void print_wrong() const {
    if (review_.check.steps.empty() && review_.check.shots.empty()) return;
    head("Look at these again (nothing was changed; the strongest evidence first)");
    for (const terrain::SetupStep& step : review_.check.steps)
      std::printf("  - %s\n", wrap(terrain::step_text(step, review_.book, site_), 4).c_str());
    for (const terrain::Suspicion& suspicion : review_.check.shots)
      std::printf("  - %s\n", wrap(terrain::suspicion_text(suspicion, review_.book, site_), 4).c_str());
  }

  void print_next() const {
    if (review_.next.empty()) return;
    head("Where one more shot would tell most");
    std::printf("  Low spots hold %s when full, by these levels.\n",
                report::amount(review_.low_spot_volume, units_.volume).c_str());
    for (std::size_t k = 0; k < review_.next.size(); ++k) {
      const terrain::NextShot& next = review_.next[k];
      std::string text = "at " + place(next.at) + ": " + report::amount(next.reach, units_.length) +
                         " from the nearest shot, the ground may be off by " +
                         report::small_height(next.doubt, site_) + "; ";
      text += next.volume_change > 1e-6
                  ? "if so, the low spots would hold " + report::amount(next.volume_change, units_.volume) +
                        " more, or less."
                  : "no low spot would change.";
      std::printf("  %zu. %s\n", k + 1, wrap(text, 5).c_str());
    }
  }

  void print_shots() const {
    head("Shots (" + site_.units + ")");
    std::printf("  %-16s %9s %9s %10s %9s %9s %6s\n", "point", "x", "y", "elevation", "adjusted", "left out",
                "line");
    std::map<int, double> left_out, adjusted;
    for (std::size_t k = 0; k < review_.survey.points.size(); ++k)
      left_out[review_.survey.points[k].line] = review_.leave_one_out[k];
    for (const terrain::Sighting& sighting : review_.book.sightings)
      adjusted[sighting.line] = sighting.adjusted;
    std::size_t shown = 0;
    for (const terrain::Shot& shot : review_.book.shots) {
      if (++shown > most_shown) break;
      const auto found = left_out.find(shot.line);
      const auto moved = adjusted.find(shot.line);
      std::printf("  %-16s %9s %9s %10s %9s %9s %6d\n", shot.name.c_str(),
                  rounded(shot.at.x / site_.unit, 6).c_str(), rounded(shot.at.y / site_.unit, 6).c_str(),
                  elevation(shot.at.z).c_str(),
                  moved == adjusted.end() ? "-" : signed_length(moved->second).c_str(),
                  found == left_out.end() ? "-" : signed_length(found->second).c_str(), shot.line);
    }
    if (review_.book.shots.size() > most_shown)
      std::printf("  and %zu more; all stand in levels_reduced.csv (--out DIR)\n",
                  review_.book.shots.size() - most_shown);
    std::printf(
        "  %s\n",
        wrap("left out: how far the shot lies above (+) or below the ground between the others.", 2).c_str());
  }

  static constexpr std::size_t most_shown = 300;
  const Context& context_;
  const site::Site& site_;
  const terrain::LevelReview& review_;
  report::Units units_;
};

nlohmann::ordered_json number(double value) {
  return std::isfinite(value) ? nlohmann::ordered_json(value) : nlohmann::ordered_json(nullptr);
}

nlohmann::ordered_json json_of(const site::Site& site, const terrain::LevelReview& review) {
  using nlohmann::ordered_json;
  ordered_json json{{"site", site.name}, {"sentence", report::levels_sentence(review, site)}};
  json["rod_book"] = review.book.rod_book;
  for (const char* list :
       {"set_ups", "closures", "shots", "suspicious_set_ups", "suspicious_shots", "next_shots"})
    json[list] = ordered_json::array();
  for (const terrain::SetUp& s : review.book.set_ups)
    json["set_ups"].push_back({{"on", s.on},
                               {"line", s.line},
                               {"backsight_m", s.backsight},
                               {"height_of_instrument_m", s.instrument}});
  for (const terrain::Closure& c : review.book.closures)
    json["closures"].push_back({{"on", c.name},
                                {"line", c.line},
                                {"set_ups", c.setups},
                                {"misclosure_m", c.misclosure},
                                {"allowed_m", c.allowed},
                                {"spread", c.spread}});
  std::map<int, double> left_out;
  for (std::size_t k = 0; k < review.survey.points.size(); ++k)
    left_out[review.survey.points[k].line] = review.leave_one_out[k];
  std::map<int, const terrain::Sighting*> sighting;
  for (const terrain::Sighting& s : review.book.sightings) sighting[s.line] = &s;
  for (const terrain::Shot& s : review.book.shots) {
    ordered_json shot{{"point", s.name}, {"line", s.line}, {"at", {s.at.x, s.at.y}}, {"elevation_m", s.at.z}};
    if (const auto found = sighting.find(s.line); found != sighting.end()) {
      shot["adjusted_m"] = found->second->adjusted;
      shot["set_up"] = found->second->setup;
    }
    shot["left_out_error_m"] = left_out.count(s.line) ? number(left_out[s.line]) : nullptr;
    json["shots"].push_back(shot);
  }
  for (const terrain::SetupStep& s : review.check.steps)
    json["suspicious_set_ups"].push_back({{"set_up", s.setup},
                                          {"line", s.line},
                                          {"point", s.name},
                                          {"at_start", s.at_start},
                                          {"too_high_m", s.step},
                                          {"fit_m", s.fit_before},
                                          {"fit_mended_m", s.fit_after},
                                          {"sentence", terrain::step_text(s, review.book, site)}});
  for (const terrain::Suspicion& s : review.check.shots)
    json["suspicious_shots"].push_back({{"point", s.name},
                                        {"line", s.line},
                                        {"elevation_m", s.elevation},
                                        {"off_m", s.off},
                                        {"cause", s.cause},
                                        {"written", s.written},
                                        {"meant", s.meant},
                                        {"mended_elevation_m", number(s.mended_elevation)},
                                        {"off_mended_m", number(s.off_mended)},
                                        {"evidence", number(s.evidence)},
                                        {"sentence", terrain::suspicion_text(s, review.book, site)}});
  for (const terrain::NextShot& n : review.next)
    json["next_shots"].push_back({{"at", {n.at.x, n.at.y}},
                                  {"doubt_m", n.doubt},
                                  {"nearest_shot_m", n.reach},
                                  {"low_spot_volume_change_m3", n.volume_change}});
  json["low_spot_volume_m3"] = review.low_spot_volume;
  json["warnings"] = review.ground.warnings;
  return json;
}

int levels(Context& context, const LevelsArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  const terrain::LevelReview review = terrain::review_levels(site);
  if (!arguments.out.empty()) report::write_levels(review, site, arguments.out);
  if (context.json) {
    std::printf("%s\n", results::json_text(json_of(site, review)).c_str());
    return done;
  }
  if (!context.quiet)
    for (const std::string& warning : review.other_warnings)
      std::fprintf(stderr, "%s\n", wrap(context.terminal.warning(warning), 2, 0).c_str());
  Printer(context, site, review).print();
  if (!arguments.out.empty()) {
    const std::filesystem::path out = arguments.out;
    std::printf("\nPicture: %s, %s\nTable:   %s\n", (out / "levels.png").string().c_str(),
                (out / "levels.pdf").string().c_str(), (out / "levels_reduced.csv").string().c_str());
  }
  return done;
}
} // namespace

void add_levels(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand(
      "levels", "Reduce the rod book: closure, shots that look wrong, where one more would tell most");
  const auto arguments = std::make_shared<LevelsArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--out", arguments->out, "folder for levels.png, levels.pdf and levels_reduced.csv");
  add_answer_options(*command, context, "no warnings", "the answer as JSON on standard output, in metres");
  command->footer("Example:\n  lowspot levels my-yard --out my-yard/levels");
  command->callback([&context, arguments] {
    context.chosen = [&context, arguments] { return levels(context, *arguments); };
  });
}

} // namespace lowspot::cli
