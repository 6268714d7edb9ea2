// What is wrong with the fittings, outlets, inlets and taps of a layout, each by itself.
#pragma once
#include <string>
#include <vector>

#include <lowspot/drain/layout.hpp>

namespace lowspot::drain {

// Whether a figure is 0 or more, and neither endless nor no number.
bool is_figure(double value);

// Sentences as in problems(): figures without sense, names that do not exist.
void check_places(const Layout& layout, std::vector<std::string>& out);

// Place (fitting, or outlet after the fittings) or run that a name stands for; -1 where there is none.
int place_index(const Layout& layout, const std::string& name);
int run_index(const Layout& layout, const std::string& name);

} // namespace lowspot::drain
