#include <CLI/CLI.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/site/site.hpp>

#include "commands.hpp"

namespace lowspot::cli {

double cell_size(const std::string& text) {
  if (text.empty()) return site::not_given;
  const ParsedQuantity parsed = parse_quantity(text, Dimension::length);
  if (!parsed.ok || parsed.value <= 0)
    throw InputError({"", 0, "--cell"}, "\"" + text + "\"", "a length with a unit",
                     "write it like --cell \"6 in\"");
  return parsed.value;
}

} // namespace lowspot::cli
