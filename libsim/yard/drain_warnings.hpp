// What must be said of a drain once it is laid on its ground: pipes in the air, thin cover, deep trenches,
// buried ends.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/drain/layout.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::yard {

// Throws InputError where the very bottom of a pipe is in the air, other than at a free end: a slip of a
// level, not a shallow trench. Drains as they were dug are taken as they are.
void refuse_above_ground(const site::Site& site, const site::Design& design, const site::Run& run,
                         const drain::Run& built, const std::function<double(Point)>& ground_at);

// Appends a sentence where a pipe comes out of the ground (its last metre and a half before a free end left
// out) or has hardly any cover (site::run_out() left out), and where its trench, along its whole length, is
// as deep as the limits of the site ask a way out or a protective system for.
void warn_of_trench(const site::Site& site, const site::Design& design, const site::Run& run,
                    const drain::Run& built, const std::function<double(Point)>& ground_at,
                    std::vector<std::string>& warnings);

// Appends a sentence where a free outlet lies under the ground beside it. arriving: invert of the lowest pipe
// that ends there [m]; infinite where none does.
void warn_of_buried_outlet(const site::Site& site, const site::Outlet& outlet, double arriving,
                           const std::function<double(Point)>& ground_at, std::vector<std::string>& warnings);

} // namespace lowspot::yard
