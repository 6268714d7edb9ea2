#include <lowspot/site/joints.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {

void read_joints(const TableReader& table, Area& area) {
  const auto joints = table.table("joints");
  if (!joints) return;
  if (!area.impervious)
    table.fail("joints", "joints in ground that takes water in everywhere", "them on a slab",
               "Remove the line, or set impervious = true.");
  const Site& site = table.context().site;
  const double width = joints->quantity("width", Dimension::length, Range::positive);
  const double spacing = joints->quantity("spacing", Dimension::length, Range::positive);
  if (width >= spacing)
    joints->fail("width", written(width, Dimension::length, site),
                 "less than the spacing, " + written(spacing, Dimension::length, site),
                 "The spacing is the side of a slab with its joint.");
  const double slab = 1 - width / spacing;
  area.joint_share = 1 - slab * slab;
  if (const auto conductivity = joints->maybe_quantity("conductivity", Dimension::speed)) {
    area.joint_conductivity = *conductivity;
    warn_outside(*joints, "conductivity", *conductivity, usual::joint_conductivity);
  } else {
    area.joint_conductivity = site.soils[static_cast<std::size_t>(area.soil)].conductivity.likely;
    joints->assume("conductivity",
                   written(area.joint_conductivity, Dimension::speed, site) + " (the topsoil's)");
  }
  joints->done();
  if (area.joint_share > 0.2)
    joints->warn("width", "makes " + rounded(100 * area.joint_share, 2) +
                              " % of the paving joint, so it is hardly paved; check the units");
}

} // namespace lowspot::site
