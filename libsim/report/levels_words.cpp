#include <lowspot/report/levels_words.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include <lowspot/base/csv_text.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/report/units.hpp>

namespace lowspot::report {
namespace {

std::string count_word(std::size_t count) {
  constexpr std::array<const char*, 11> words = {"no",  "one",   "two",   "three", "four", "five",
                                                 "six", "seven", "eight", "nine",  "ten"};
  return count < words.size() ? words[count] : std::to_string(count);
}

std::string setups_text(int count) {
  return count == 1 ? "one set-up" : count_word(static_cast<std::size_t>(count)) + " set-ups";
}

std::string closing_text(const terrain::LevelBook& book, const site::Site& site) {
  if (!book.rod_book) return "Your " + std::to_string(book.shots.size()) + " levels came reduced";
  if (book.closures.empty())
    return "Your levels over " + setups_text(book.setups) +
           " were not closed on a known point, so a slip in them need not show";
  const auto worst =
      std::max_element(book.closures.begin(), book.closures.end(), [](const auto& a, const auto& b) {
        return std::abs(a.misclosure) / a.allowed < std::abs(b.misclosure) / b.allowed;
      });
  const std::string size = small_height(worst->misclosure, site);
  if (std::abs(worst->misclosure) <= worst->allowed)
    return (std::abs(worst->misclosure) < 5e-5 ? "Your levels close exactly over "
                                               : "Your levels close to " + size + " over ") +
           setups_text(worst->setups);
  return "Your levels do not close: they miss \"" + worst->name + "\" by " + size + " over " +
         setups_text(worst->setups) + ", where " + small_height(worst->allowed, site) + " is allowed";
}

} // namespace

std::string small_height(double metres, const site::Site& site) {
  const double size = std::abs(metres);
  if (site.units == "m")
    return size >= 1 ? fixed(size, 3) + " m" : fixed(size * 1000, size < 0.0095 ? 1 : 0) + " mm";
  const double inches = size / 0.0254;
  if (inches >= 12) return fixed(size / 0.3048, 2) + " ft";
  const long sixteenths = std::lround(inches * 16);
  if (sixteenths == 0) return "less than 1/16 in";
  long part = sixteenths % 16, of = 16;
  while (part > 0 && part % 2 == 0) {
    part /= 2;
    of /= 2;
  }
  const std::string whole = sixteenths >= 16 ? std::to_string(sixteenths / 16) : "";
  if (part == 0) return whole + " in";
  return whole + (whole.empty() ? "" : " ") + std::to_string(part) + "/" + std::to_string(of) + " in";
}

std::string levels_sentence(const terrain::LevelReview& review, const site::Site& site) {
  std::string text = closing_text(review.book, site);
  const std::size_t wrong = review.check.shots.size(), steps = review.check.steps.size();
  if (steps > 0)
    text += "; " + count_word(steps) + (steps == 1 ? " set-up looks shifted" : " set-ups look shifted");
  text += "; " + count_word(wrong) +
          (wrong == 1   ? " shot looks wrong."
           : wrong == 0 ? " shot looks wrong."
                        : " shots look wrong.");
  if (wrong + steps > 0) text += " Nothing was changed: look at each before you build on it.";
  return text;
}

std::string reduced_csv(const terrain::LevelReview& review, const site::Site& site) {
  std::map<int, std::size_t> point_of, sighting_of;
  for (std::size_t k = 0; k < review.survey.points.size(); ++k) point_of[review.survey.points[k].line] = k;
  for (std::size_t k = 0; k < review.book.sightings.size(); ++k)
    sighting_of[review.book.sightings[k].line] = k;
  std::map<int, std::string> remarks;
  for (const auto& suspicion : review.check.shots) remarks[suspicion.line] = "looks wrong";
  const int decimals = site.units == "m" ? 4 : 3;
  auto number = [&](double metres) {
    return std::isnan(metres) ? std::string() : fixed(metres / site.unit, decimals);
  };
  std::string text = "point,x,y,elevation,note,adjusted_by,left_out_error,set_up,line,remark\n";
  for (const terrain::Shot& shot : review.book.shots) {
    text += csv_text(shot.name) + "," + number(shot.at.x) + "," + number(shot.at.y) + "," +
            number(shot.at.z) + "," + csv_text(shot.note) + ",";
    const auto sighting = sighting_of.find(shot.line);
    if (sighting != sighting_of.end()) text += number(review.book.sightings[sighting->second].adjusted);
    text += ",";
    const auto point = point_of.find(shot.line);
    if (point != point_of.end()) text += number(review.leave_one_out[point->second]);
    text += ",";
    if (sighting != sighting_of.end()) text += std::to_string(review.book.sightings[sighting->second].setup);
    text += "," + std::to_string(shot.line) + "," + remarks[shot.line] + "\n";
  }
  return text;
}

} // namespace lowspot::report
