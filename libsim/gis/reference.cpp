#include <lowspot/gis/reference.hpp>

#ifdef LOWSPOT_WITH_GDAL
#include <limits>

#include <cpl_conv.h>
#include <ogr_spatialref.h>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::gis {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

double metres_in(const std::string& unit_name) {
  const std::string name = lower(trim(unit_name));
  if (name == "m" || name == "metre" || name == "meter" || name == "metres" || name == "meters") return 1;
  if (name == "ft" || name == "foot" || name == "feet" || name == "international foot") return 0.3048;
  if (name == "us-ft" || name == "ftus" || name == "us survey foot" || name == "foot_us" || name == "sft" ||
      name == "us survey feet" || name == "survey foot")
    return 1200.0 / 3937.0;
  if (name == "cm" || name == "centimetre" || name == "centimeter") return 0.01;
  if (name == "mm" || name == "millimetre" || name == "millimeter") return 0.001;
  if (name == "dm" || name == "decimetre" || name == "decimeter") return 0.1;
  return unknown;
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
