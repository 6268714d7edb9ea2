#include <lowspot/terrain/rod_book.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/terrain/benchmark_note.hpp>
#include <lowspot/terrain/rod_reading.hpp>

namespace lowspot::terrain {
namespace {

constexpr double foot = 0.3048;
constexpr double longest_rod = 12; // m
// A misclosure beyond this many times what is allowed is no sum of small errors: spreading a slip over good
// set-ups would bend what is right.
constexpr double spread_limit = 4;

std::string set_ups(int count) {
  return std::to_string(count) + (count == 1 ? " set-up" : " set-ups");
}

class Reduction {
public:
  Reduction(const CsvTable& table, const LevelUnits& units, LevelBook& book)
      : table_(table), units_(units), book_(book) {}

  void run() {
    collect_known_points();
    for (const CsvRow& row : table_.rows)
      uses_intermediate_ = uses_intermediate_ || !table_.text(row, "intermediate").empty();
    for (const CsvRow& row : table_.rows) reduce_row(row);
    if (book_.setups == 0)
      throw InputError({table_.file, 0, "backsight"}, "no backsight in the whole book", "one at least",
                       "begin with a backsight on the benchmark");
    place_shots();
    if (decimal_line_ > 0 && inch_line_ > 0)
      book_.warnings.push_back(
          table_.file + ": line " + std::to_string(decimal_line_) + " is read in decimals and line " +
          std::to_string(inch_line_) +
          " in feet and inches; check that no tenths were read as inches (0.1 ft is 1.2 in).");
    if (decimals_ >= 8 && beyond_eleven_ == 0 && std::abs(units_.readings / foot - 1) < 1e-4)
      book_.warnings.push_back(
          table_.file + ": none of its " + std::to_string(decimals_) +
          " readings goes beyond .11 after the point; were feet and inches written as 4.11 for "
          "4' 11\"? Then write 4-11, or every elevation is wrong by up to 0.8 ft.");
    if (book_.closures.empty())
      book_.warnings.push_back(table_.file +
                               ": no known point was shot again, so a blunder in the levels would not show.");
  }

private:
  std::string name_of(const CsvRow& row) const {
    for (const char* column : {"point", "note"})
      if (const std::string text = table_.text(row, column); !text.empty()) return text;
    return "line " + std::to_string(row.line);
  }

  // A note stands for a name at the instrument or of a benchmark only: "lawn" is no one point.
  bool is_named(const CsvRow& row) const {
    return !table_.text(row, "point").empty() || !table_.text(row, "backsight").empty() ||
           names_benchmark(table_.text(row, "note"));
  }

  std::optional<double> reading(const CsvRow& row, const char* column) {
    const std::string text = table_.text(row, column);
    if (text.empty()) return std::nullopt;
    const auto parsed = parse_rod_reading(text, units_.readings);
    if (!parsed || parsed->metres < 0)
      throw InputError({table_.file, row.line, column}, "\"" + text + "\"",
                       "a rod reading such as 4.35, 4' 3 5/8\" or 4-3 5/8",
                       text.find(',') != std::string::npos ? "write the decimal mark as a point"
                                                           : "correct the reading");
    if (parsed->metres > longest_rod)
      throw InputError({table_.file, row.line, column},
                       "a rod reading of \"" + text + "\", " + rounded(parsed->metres) + " m",
                       "a reading under 12 m (40 ft)",
                       "correct it, or state the unit of the readings: levels_units = \"mm\" in [ground]");
    if (parsed->inches && inch_line_ == 0) inch_line_ = row.line;
    if (parsed->decimal && decimal_line_ == 0) decimal_line_ = row.line;
    last_was_decimal_ = parsed->decimal;
    note_decimals(text);
    return parsed->metres;
  }

  // Inches written after the point never pass 11; hundredths of a foot do, nine times in ten.
  void note_decimals(const std::string& text) {
    const std::size_t point = text.find('.');
    if (point == std::string::npos || text.size() != point + 3 || !last_was_decimal_) return;
    ++decimals_;
    beyond_eleven_ += text.substr(point + 1) > "11";
  }

  // Elevations that are given, by point, and the default for the first backsight where nothing is.
  void collect_known_points() {
    bool first = true;
    for (const CsvRow& row : table_.rows) {
      const std::string name = lower(name_of(row));
      const std::string elevation = table_.text(row, "elevation");
      std::optional<double> given;
      if (!elevation.empty()) {
        const auto parsed = parse_rod_reading(elevation, units_.coordinates);
        if (!parsed)
          throw InputError({table_.file, row.line, "elevation"}, "\"" + elevation + "\"",
                           "a number such as 100.00", "correct the elevation");
        given = parsed->metres;
      } else if (const auto noted =
                     benchmark_in_note(table_.text(row, "note"), !table_.text(row, "backsight").empty())) {
        given = *noted * units_.coordinates;
      }
      const bool backsight = !table_.text(row, "backsight").empty();
      if (!given && backsight && first && known_.find(name) == known_.end()) {
        given = 100 * units_.coordinates;
        book_.assumptions.push_back({"levels benchmark elevation", "100.00", "default"});
      }
      first = first && !backsight;
      if (!given) continue;
      if (!is_named(row)) continue;
      const auto [at, added] = known_.insert({name, *given});
      if (!added && std::abs(at->second - *given) > 1e-6)
        throw InputError({table_.file, row.line, "elevation"},
                         "a second elevation for \"" + name_of(row) + "\"", "one elevation a benchmark",
                         "correct one of the two rows");
    }
  }

  void reduce_row(const CsvRow& row) {
    const std::string name = name_of(row), key = lower(name);
    const auto foresight = reading(row, "foresight");
    const bool decimal_foresight = last_was_decimal_;
    const auto intermediate = reading(row, "intermediate");
    const bool decimal = foresight ? decimal_foresight : last_was_decimal_;
    const auto backsight = reading(row, "backsight");
    if (foresight && intermediate)
      throw InputError({table_.file, row.line, "foresight"},
                       "a foresight and an intermediate reading in one row", "one of the two",
                       "put them in two rows");
    if (backsight && intermediate)
      throw InputError({table_.file, row.line, "backsight"},
                       "a backsight and an intermediate reading in one row", "one of the two",
                       "a turning point has a foresight and a backsight; put other readings in two rows");
    if (!foresight && !intermediate && !backsight) {
      if (table_.text(row, "elevation").empty() && !table_.text(row, "x").empty())
        throw InputError({table_.file, row.line, ""}, "a place without a reading",
                         "a backsight, intermediate or foresight", "fill in the reading or remove the row");
      return; // a remark, or a given elevation that has been noted
    }
    if (foresight || intermediate) check_moved(row, foresight.has_value());
    if (foresight || intermediate)
      sight(row, name, foresight ? *foresight : *intermediate, decimal,
            foresight ? "foresight" : "intermediate");
    if (!backsight) {
      if (foresight && known_.find(key) == known_.end()) moved_ = {row.line, name};
      return;
    }
    moved_ = {};
    const auto given = known_.find(key);
    const auto turned = found_.find(key);
    if (given == known_.end() && turned == found_.end())
      throw InputError({table_.file, row.line, "backsight"},
                       "a backsight on \"" + name + "\", which has no elevation yet",
                       "a benchmark or a turning point", unknown_point(name));
    const double elevation = given != known_.end() ? given->second : turned->second;
    if (given != known_.end()) begin_chain(); // what was read since the last known point stays unclosed
    instrument_ = elevation + *backsight;
    ++book_.setups;
    book_.set_ups.push_back({name, row.line, *backsight, instrument_, given != known_.end()});
    if (!foresight) {
      record(row, name, *backsight, elevation, given != known_.end(), last_was_decimal_, "backsight");
      if (given == known_.end()) hangs_on_[book_.sightings.size() - 1] = found_at_.at(key);
    }
  }

  // After a foresight the instrument moves: a reading that follows without a backsight has no height to hang
  // on.
  void check_moved(const CsvRow& row, bool foresight) const {
    if (moved_.line == 0 || (foresight && !uses_intermediate_)) return;
    throw InputError(
        {table_.file, moved_.line, "foresight"},
        "a foresight on \"" + moved_.name +
            "\" without a backsight after it, and a further reading in line " + std::to_string(row.line),
        "a backsight on \"" + moved_.name + "\" before the next reading",
        "write the backsight, or call the foresight an intermediate reading where the instrument "
        "stayed");
  }

  std::string unknown_point(const std::string& name) const {
    std::vector<std::string> names;
    for (const auto* points : {&known_, &found_})
      for (const auto& [point, elevation] : *points) names.push_back(point);
    const std::string near = nearest(lower(name), names);
    return (near.empty() ? "" : "did you mean \"" + near + "\"? Otherwise ") +
           std::string("shoot it with a foresight before, or give its elevation");
  }

  void sight(const CsvRow& row, const std::string& name, double rod, bool decimal, const char* column) {
    if (book_.setups == 0)
      throw InputError({table_.file, row.line, ""}, "a reading before the first backsight",
                       "a backsight first", "begin the book with a backsight on the benchmark");
    const double elevation = instrument_ - rod;
    const std::string key = lower(name);
    const auto given = known_.find(key);
    record(row, name, rod, given == known_.end() ? elevation : given->second, given != known_.end(), decimal,
           column);
    if (given == known_.end()) {
      found_[key] = elevation;
      found_at_[key] = book_.sightings.size() - 1;
    }
    if (given != known_.end()) close(row, name, elevation - given->second);
  }

  void record(const CsvRow& row, const std::string& name, double rod, double elevation, bool fixed,
              bool decimal, const char* column) {
    Sighting sighting;
    sighting.written = table_.text(row, column);
    sighting.name = name;
    sighting.line = row.line;
    sighting.setup = book_.setups;
    sighting.instrument = instrument_;
    sighting.reading = rod;
    sighting.elevation = elevation;
    sighting.decimal = decimal;
    sighting.has_place = !table_.text(row, "x").empty() || !table_.text(row, "y").empty();
    book_.sightings.push_back(sighting);
    fixed_.push_back(fixed);
  }

  void close(const CsvRow& row, const std::string& name, double misclosure) {
    const int setups = book_.setups - closed_setup_;
    Closure closure{name, row.line, std::max(setups, 1), misclosure, 0};
    closure.allowed = 0.02 * foot * std::sqrt(static_cast<double>(closure.setups));
    closure.from_setup = setups > 0 ? closed_setup_ + 1 : closed_setup_;
    closure.spread = setups > 0 && std::abs(misclosure) <= spread_limit * closure.allowed;
    for (std::size_t k = closed_sighting_; k < book_.sightings.size(); ++k) {
      Sighting& sighting = book_.sightings[k];
      if (fixed_[k] || !closure.spread) continue;
      if (const auto found = hangs_on_.find(k); found == hangs_on_.end())
        sighting.adjusted = -misclosure * (sighting.setup - closed_setup_) / setups;
      else if (found->second >=
               closed_sighting_) // a turning point is where it was found, not a set-up further
        sighting.adjusted = book_.sightings[found->second].adjusted;
      sighting.elevation += sighting.adjusted;
      found_[lower(sighting.name)] = sighting.elevation;
    }
    const std::string unit = units_.name;
    auto shown = [&](double metres) { return rounded(metres / units_.coordinates, 3) + " " + unit; };
    if (std::abs(misclosure) > closure.allowed)
      book_.warnings.push_back(table_.file + ": line " + std::to_string(row.line) + ": the levels miss \"" +
                               name + "\" by " + shown(misclosure) + " over " + set_ups(closure.setups) +
                               "; more than " + shown(closure.allowed) + " is a reason to shoot again." +
                               (closure.spread
                                    ? ""
                                    : " It is too large to be the sum of small errors, so it is not "
                                      "spread: one reading or one set-up is wrong."));
    if (misclosure != 0 && closure.spread)
      book_.assumptions.push_back({"levels misclosure at " + name,
                                   shown(misclosure) + ", spread evenly over " + set_ups(setups),
                                   "measured"});
    book_.closures.push_back(closure);
    if (closure.spread)
      instrument_ -= misclosure; // sightings that follow from this set-up hang on the known point
    begin_chain();
  }

  // A misclosure found later belongs to what is read from here on.
  void begin_chain() {
    closed_setup_ = book_.setups;
    closed_sighting_ = book_.sightings.size();
  }

  void place_shots() {
    std::size_t next = 0;
    for (const CsvRow& row : table_.rows) {
      while (next < book_.sightings.size() && book_.sightings[next].line < row.line) ++next;
      if (next >= book_.sightings.size() || book_.sightings[next].line != row.line) {
        place_given(row);
        continue;
      }
      if (!book_.sightings[next].has_place) continue;
      if (fixed_[next] && !is_ground(row)) continue;
      add_shot(row, book_.sightings[next].name, book_.sightings[next].elevation,
               {book_.sightings[next].written, units_.readings, fixed_[next] ? 0 : -1});
    }
  }

  // A row with a place and an elevation but no reading is a shot as it stands.
  void place_given(const CsvRow& row) {
    if (table_.text(row, "elevation").empty() || table_.text(row, "x").empty()) return;
    const std::string elevation = table_.text(row, "elevation");
    add_shot(row, name_of(row), parse_rod_reading(elevation, units_.coordinates)->metres,
             {elevation, units_.coordinates, 1});
  }

  // A known point stands on what does not move, seldom on the ground: a door sill would be a hump in it.
  bool is_ground(const CsvRow& row) {
    const std::string words = lower(name_of(row) + " " + table_.text(row, "note"));
    if (words.find("ground") != std::string::npos) return true;
    static const std::vector<const char*> things = {"sill",  "door",    "thresh", "step", "porch",
                                                    "stoop", "hydrant", "post",   "wall", "foundation",
                                                    "floor", "nail",    "pole",   "bolt"};
    const bool thing = std::any_of(things.begin(), things.end(),
                                   [&](const char* word) { return words.find(word) != std::string::npos; });
    if (said_of_ground_.insert(lower(name_of(row))).second)
      book_.warnings.push_back(
          table_.file + ": line " + std::to_string(row.line) + ": the known point \"" + name_of(row) +
          "\" has a place. " +
          (thing
               ? "It is no shot of the ground, by its name or note, and left out of it; where it is, write "
                 "\"ground\" in its note."
               : "It is taken for ground there: take out its x and y if it is a sill, a hydrant or the like, "
                 "which would be a hump, or write \"ground\" in its note."));
    return !thing;
  }

  void add_shot(const CsvRow& row, const std::string& name, double elevation, const Written& written) {
    Shot shot;
    shot.name = name;
    shot.at = {table_.number(row, "x") * units_.coordinates, table_.number(row, "y") * units_.coordinates,
               elevation};
    shot.note = table_.text(row, "note");
    shot.line = row.line;
    shot.written = written;
    book_.shots.push_back(shot);
  }

  const CsvTable& table_;
  const LevelUnits& units_;
  LevelBook& book_;
  std::map<std::string, double> known_;         // given elevations by point [m]
  std::map<std::string, double> found_;         // of points shot so far [m]
  std::map<std::string, std::size_t> found_at_; // and the sighting that found them
  std::map<std::size_t, std::size_t> hangs_on_; // backsights on them, and the sighting that found the point
  std::vector<bool> fixed_;                     // one a sighting: of a known point
  double instrument_ = 0;
  int closed_setup_ = 0;
  std::size_t closed_sighting_ = 0;
  std::set<std::string> said_of_ground_;
  int decimal_line_ = 0, inch_line_ = 0;
  int decimals_ = 0, beyond_eleven_ = 0; // readings with two decimals, and those over .11
  bool uses_intermediate_ = false;
  struct {
    int line = 0;
    std::string name;
  } moved_; // a foresight on a point that is not known, with no backsight yet
  bool last_was_decimal_ = false;
};

} // namespace

void reduce_rod_book(const CsvTable& table, const LevelUnits& units, LevelBook& book) {
  Reduction(table, units, book).run();
}

} // namespace lowspot::terrain
