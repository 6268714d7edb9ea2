// A design of the site file as a drain that can be built: inverts resolved against the ground.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/drain/layout.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::yard {

// A drain with what to say of it.
struct ResolvedDrain {
  drain::Layout layout;              // inverts and mouths on the ground at hand
  std::vector<std::string> warnings; // little cover, outlet below the ground beside it, ...
};

// ground_at: elevation [m] at a point. Throws InputError when the design cannot be built (drain::problems).
ResolvedDrain resolve_drain(const site::Site& site, const site::Design& design,
                            const std::function<double(Point)>& ground_at);

} // namespace lowspot::yard
