// Fittings and outlet parts that a design needs, from the way its runs meet and bend.
#pragma once
#include <string>
#include <utility>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::job {

// The nearest elbow that is made (22.5, 45 or 90 degrees) for a turn [rad]; 0 for less than 11 degrees.
double elbow_for(double turn);

// "4 in": by its name where that begins with its size, else its bore, in inches where the yard is in feet.
std::string pipe_size(const site::PipeChoice& pipe, bool feet);

// What and how many: "tee, 4 in", "elbow 45 deg, 3 in", "reducer, 4 in to 3 in", "end cap, 3 in",
// "outlet: daylight, 3 in". Flexible pipe takes gentle bends by itself: only turns of more than 30 degrees
// within a run of it count. What downspouts need is told by adapters_of(). `feet`: the units of
// the yard. `heads_taken`: names of runs whose head takes something else than an end cap, see heads_taken().
std::vector<std::pair<std::string, int>> pieces_of(const site::Design& design, bool feet,
                                                   const std::vector<std::string>& heads_taken = {});

} // namespace lowspot::job
