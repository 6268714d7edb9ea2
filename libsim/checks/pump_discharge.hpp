// Where the water of a pump runs to.
#pragma once
#include <vector>

#include <lowspot/checks/works.hpp>
#include <lowspot/results/check_record.hpp>

namespace lowspot::checks {

// One item a pump that lets its water out inside the yard: it fails when the ground sheds that water to a low
// spot from which the pump's own drain takes it (its pit, slotted pipe, grates).
void check_pump_discharge(const site::Site& site, const Works& works,
                          std::vector<results::CheckRecord>& list);

} // namespace lowspot::checks
