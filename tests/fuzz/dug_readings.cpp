// Readings taken in the open trench.
#include "fuzz.hpp"

#include <lowspot/base/csv.hpp>
#include <lowspot/job/dug.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const lowspot::job::CutSheet sheet = [] {
    lowspot::job::CutSheet made;
    made.runs.resize(2);
    made.runs[0].name = "carrier";
    made.runs[1].name = "along the patio";
    for (lowspot::job::CutRun& run : made.runs)
      for (int k = 0; k < 6; ++k) {
        lowspot::job::CutStation station;
        station.station = 1.524 * k;
        station.ground = 30;
        station.invert = 29.5 + 0.01 * k;
        station.bottom = 29.4 + 0.01 * k;
        run.stations.push_back(station);
      }
    return made;
  }();
  const std::string text(reinterpret_cast<const char*>(data), size);
  return fuzz::reads([&] {
    const auto readings =
        lowspot::job::read_dug(lowspot::parse_csv(text, "dug.csv"), sheet, {0.3048, 0.3048, 31});
    lowspot::job::check_dug(readings, sheet, 0.006);
  });
}
