// The record of where water came from, apart from the other records because it is made only on request.
#pragma once
#include <string>
#include <vector>

namespace lowspot::results {

// A source of water as results name it.
struct SourceName {
  std::string name; // "rain on patio"
  std::string kind; // "rain", "roof", "inflow", "leak", "from below", "drain"
};

struct PlaceShares {               // every list has one entry a source
  std::string name;                // of the area or gauge; "low spot 1"; "west"
  std::string kind;                // "area", "low spot", "gauge", "edge"
  double peak_time = 0;            // s, when the place held most
  double peak_volume = 0;          // m3; of a gauge: of its cell; 0 for an edge
  std::vector<double> at_peak;     // m3 of each source then
  double rain_end_volume = 0;      // m3 when the rain ended
  std::vector<double> at_rain_end; // m3 of each source then
  // m3 over the whole run. Arrived: fell or was poured on it, or ran in over its limits; left: ran out over
  // them again. For an edge: left over it. The rest soaked in, dried up, or stands there still. Of an area it
  // is counted on whole cells: those that it covers by half, or most of where it is narrower than that.
  std::vector<double> arrived, left;          // m3 of each source
  std::vector<std::vector<double>> over_time; // m3 of each source at the output times
};

struct SourceShares {              // empty unless sources were followed
  std::vector<SourceName> sources; // in the order of all lists
  std::vector<PlaceShares> places; // areas, low spots, gauges and sides
  // Per source and cell: the share in the deepest water the cell ever held, 0..1.
  std::vector<std::vector<float>> when_deepest;
};

} // namespace lowspot::results
