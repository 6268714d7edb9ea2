#include <lowspot/checks/check_design.hpp>

#include <lowspot/checks/house.hpp>
#include <lowspot/checks/pump_discharge.hpp>
#include <lowspot/checks/roots.hpp>
#include <lowspot/checks/setbacks.hpp>
#include <lowspot/checks/trench_checks.hpp>
#include <lowspot/checks/utilities.hpp>
#include <lowspot/terrain/reshape.hpp>

namespace lowspot::checks {

std::vector<results::CheckRecord> check_yard(const site::Site& site, const terrain::Ground& ground) {
  std::vector<results::CheckRecord> list;
  check_fall_from_house(site, ground, list);
  check_overflow(site, ground, list);
  return list;
}

std::vector<results::CheckRecord> check_design(const site::Site& site, const terrain::Ground& ground,
                                               const site::Design& design) {
  const Works works = lay_out(site, ground, design);
  std::vector<results::CheckRecord> list = check_yard(site, works.ground);
  // Regrading decides how the ground lies at the house.
  for (results::CheckRecord& record : list) record.of_works = terrain::changes_ground(design);
  check_trenches(site, works, list);
  check_footings(site, works, list);
  check_setbacks(site, works, list);
  check_pump_discharge(site, works, list);
  check_roots(site, works, list);
  check_utilities(site, works, list);
  return list;
}

} // namespace lowspot::checks
