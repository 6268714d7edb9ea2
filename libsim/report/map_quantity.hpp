// What a map of a design can show: the field, its one scale, and the figure that matters in it.
#pragma once
#include <string>

#include <lowspot/report/map_panel.hpp>

namespace lowspot::report {

// What a map shows of a record, by the names of its fields.
enum class MapQuantity { standing_hours, max_depth, soggy_hours, perched_max };

// One value a cell: hours or metres.
const Field& field_of(const results::DesignRecord& design, MapQuantity quantity);
// One scale for all designs of the comparison.
Scale scale_of(const MapScene& scene, MapQuantity quantity);
// "long bed stands 34 h after the rain".
std::string caption_of(const MapScene& scene, MapQuantity quantity, const results::DesignRecord& design);

} // namespace lowspot::report
