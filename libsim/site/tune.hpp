// What may vary about a design, and the limits that no variation may break.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/design.hpp>

namespace lowspot::site {

// Each list holds the values to try; an empty one leaves the design as it is there. SI throughout.
struct TuneLists {
  std::vector<PipeChoice> pipes;   // of the runs that take water in; solid ones follow in size
  std::vector<double> depths;      // of the trench at free heads [m]
  std::vector<double> widths;      // of the trench [m]
  std::vector<CapChoice> caps;     // over the stone; those of topsoil or stone take that of their place
  std::vector<double> offsets;     // sideways, away from the slab or wall beside the run [m]
  std::vector<double> falls;       // of the runs in stone [m/m]
  std::vector<StoneChoice> stones; // of the trench
};
// What [tune] says.
struct Tune {
  std::string design;            // the one that is varied
  TuneLists vary;                // what may be exchanged
  double cover = 0.1524;         // m of ground over the pipe
  double least_fall = 0.005;     // m/m
  double deepest_trench = 1.524; // m: deeper ones need their sides held
  int line = 0;                  // of its table in the site file
};

} // namespace lowspot::site
