#include <lowspot/site/run_out.hpp>

#include <algorithm>

#include <lowspot/site/outlet_named.hpp>

namespace lowspot::site {

double run_out(const Site& site, const Design& design, const Run& run) {
  const Outlet* outlet = outlet_named(design, run.to);
  if (!outlet || (outlet->kind != "daylight" && outlet->kind != "submerged")) return 0;
  return std::min(site.reach.run_out, 0.5 * length(run.path));
}

} // namespace lowspot::site
