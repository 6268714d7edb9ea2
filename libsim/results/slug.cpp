#include <lowspot/results/slug.hpp>

#include <algorithm>

namespace lowspot::results {

std::string slug(const std::string& name) {
  constexpr std::size_t longest = 80; // file systems end at 255 bytes, and more stands around it
  std::string text;
  for (const char letter : name) {
    if (text.size() >= longest) break;
    const char small = letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
    const bool keep = (small >= 'a' && small <= 'z') || (small >= '0' && small <= '9');
    if (keep)
      text += small;
    else if (!text.empty() && text.back() != '_')
      text += '_';
  }
  while (!text.empty() && text.back() == '_') text.pop_back();
  if (text.empty()) return "design";
  return text.front() >= '0' && text.front() <= '9' ? "d_" + text : text;
}

std::vector<std::string> slugs(const std::vector<std::string>& names) {
  std::vector<std::string> made;
  for (const std::string& name : names) {
    const std::string base = slug(name);
    std::string candidate = base;
    for (int number = 2; std::find(made.begin(), made.end(), candidate) != made.end(); ++number)
      candidate = base + "_" + std::to_string(number);
    made.push_back(candidate);
  }
  return made;
}

} // namespace lowspot::results
