#include <lowspot/gis/reference.hpp>

#ifdef LOWSPOT_WITH_GDAL
#include <limits>
#include <map>

#include <cpl_conv.h>
#include <ogr_spatialref.h>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::gis {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
constexpr double international_foot = 0.3048, survey_foot = 1200.0 / 3937.0; // m

// The one unit among the words of a text such as "US_survey_foot", "[ft_us]" or "feet above sea level".
double metres_in(const std::string& text) {
  static const std::map<std::string, double> units = {
      {"m", 1},
      {"metre", 1},
      {"meter", 1},
      {"dm", 0.1},
      {"decimetre", 0.1},
      {"decimeter", 0.1},
      {"cm", 0.01},
      {"centimetre", 0.01},
      {"centimeter", 0.01},
      {"mm", 0.001},
      {"millimetre", 0.001},
      {"millimeter", 0.001},
      {"ft", international_foot},
      {"foot", international_foot},
      {"feet", international_foot},
      {"usft", survey_foot},
      {"ftus", survey_foot},
      {"sft", survey_foot},
  };
  double found = unknown;
  bool survey = false;
  std::string word;
  for (const char letter : lower(text) + " ") {
    if ((letter >= 'a' && letter <= 'z') || (letter >= '0' && letter <= '9')) {
      word += letter;
      continue;
    }
    survey = survey || word == "us" || word == "survey";
    auto unit = units.find(word);
    if (unit == units.end() && word.ends_with("s")) unit = units.find(word.substr(0, word.size() - 1));
    word.clear();
    if (unit == units.end()) continue;
    if (found == found && found != unit->second) return unknown;
    found = unit->second;
  }
  return survey && found == international_foot ? survey_foot : found;
}

} // namespace

OGRSpatialReference horizontal_reference(const GDALDataset& dataset) {
  OGRSpatialReference reference;
  if (const OGRSpatialReference* own = dataset.GetSpatialRef()) {
    reference = *own;
    if (reference.IsCompound()) reference.StripVertical();
  }
  reference.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  return reference;
}

OGRSpatialReference reference_named(const std::string& name, const std::string& file) {
  const ErrorCatcher errors; // the reason is of no use beyond "unknown", and must not be printed
  OGRSpatialReference reference;
  // Only names and text: a reference must not make the library open files or fetch addresses.
  const char* const only_text[] = {"ALLOW_NETWORK_ACCESS=NO", "ALLOW_FILE_ACCESS=NO", nullptr};
  if (reference.SetFromUserInput(name.c_str(), only_text) != OGRERR_NONE)
    throw InputError({file, 0, "crs"}, "\"" + name + "\"", "the name of a coordinate system",
                     "write it like crs = \"EPSG:6549\".");
  if (reference.IsCompound()) reference.StripVertical();
  reference.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  return reference;
}

std::string reference_text(const GDALDataset& dataset) {
  const OGRSpatialReference* own = dataset.GetSpatialRef();
  if (!own || own->IsEmpty()) return "";
  char* text = nullptr;
  std::string result;
  if (own->exportToWkt(&text) == OGRERR_NONE && text) result = text;
  CPLFree(text);
  return result;
}

double vertical_unit(GDALDataset& dataset) {
  const double stated = metres_in(dataset.GetRasterBand(1)->GetUnitType());
  if (stated == stated) return stated;
  const OGRSpatialReference* own = dataset.GetSpatialRef();
  if (own && own->IsCompound()) {
    const double factor = own->GetTargetLinearUnits("COMPD_CS|VERT_CS", nullptr);
    if (factor > 0) return factor;
  }
  return unknown;
}

double horizontal_unit(const GDALDataset& dataset) {
  const OGRSpatialReference reference = horizontal_reference(dataset);
  if (reference.IsEmpty() || !(reference.IsProjected() || reference.IsLocal())) return unknown;
  return reference.GetLinearUnits(nullptr);
}

double metres_per_unit(const std::string& crs, const std::string& file) {
  const OGRSpatialReference reference = reference_named(crs, file);
  if (reference.IsGeographic())
    throw InputError({file, 0, "crs"}, "\"" + crs + "\", which counts in degrees",
                     "a system whose coordinates are in feet or metres",
                     "name the system of the yard's own coordinates, such as a state plane or UTM zone; "
                     "files in degrees are brought into it.");
  return reference.GetLinearUnits(nullptr);
}

} // namespace lowspot::gis
#else
#include <limits>

namespace lowspot::gis {

double metres_per_unit(const std::string&, const std::string&) {
  return std::numeric_limits<double>::quiet_NaN();
}

} // namespace lowspot::gis
#endif
