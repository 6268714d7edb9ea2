#include <lowspot/study/diagnose.hpp>

#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/study/describe.hpp>

namespace lowspot::study {

Diagnosis diagnose(const site::Site& site, const terrain::Ground& ground, const DiagnoseOptions& options) {
  const rain::Hyetograph rain = rain::make_hyetograph(site);
  Diagnosis diagnosis;
  diagnosis.yard = describe(site, ground, rain, options.version);
  diagnosis.yard.low_spots = terrain::find_low_spots(ground, options.least_depth);
  for (const terrain::LowSpot& spot : diagnosis.yard.low_spots) {
    LowSpotDiagnosis each;
    each.spot = spot;
    diagnosis.low_spots.push_back(std::move(each));
  }
  return diagnosis;
}

} // namespace lowspot::study
