#include <lowspot/site/outlet_named.hpp>

namespace lowspot::site {

const Outlet* outlet_named(const Design& design, const std::string& name) {
  for (const Outlet& outlet : design.outlets)
    if (outlet.name == name) return &outlet;
  return nullptr;
}

} // namespace lowspot::site
