#include <lowspot/gis/shapes.hpp>

#include <cmath>
#include <fstream>
#include <memory>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/gis/drawing_text.hpp>
#include <lowspot/gis/gdal_session.hpp>
#include <lowspot/gis/reference.hpp>

#ifdef LOWSPOT_WITH_GDAL
#include <ogrsf_frmts.h>
#endif

namespace lowspot::gis {

#ifndef LOWSPOT_WITH_GDAL

void write_geojson(const std::filesystem::path& path, const std::vector<Shape>&, const std::string&) {
  throw InputError({path.string(), 0, ""}, "a map file, and this build writes none", "no --gis",
                   "build the program with LOWSPOT_GIS=ON.");
}
Polygon read_outline(const std::filesystem::path& path, const std::string&, const std::string&, double) {
  throw InputError({path.string(), 0, ""}, "a drawing, and this build reads none", "corners in the site file",
                   "write the corners down, or build the program with LOWSPOT_GIS=ON.");
}

#else
namespace {

constexpr double same_corner = 1e-6; // in the file's unit: closed lines repeat their first corner

InputError cannot_write(const std::filesystem::path& path, const ErrorCatcher& errors) {
  return InputError({path.string(), 0, ""},
                    "that it cannot be written" +
                        (errors.message().empty() ? std::string() : " (" + errors.message() + ")"),
                    "a place to write to", "check the folder, the permissions and the free space.");
}

std::unique_ptr<OGRGeometry> geometry_of(const Shape& shape) {
  if (shape.kind == ShapeKind::point)
    return std::make_unique<OGRPoint>(shape.points.front().x, shape.points.front().y);
  const auto fill = [&](OGRSimpleCurve& curve) {
    for (const Point& point : shape.points) curve.addPoint(point.x, point.y);
  };
  if (shape.kind == ShapeKind::line) {
    auto line = std::make_unique<OGRLineString>();
    fill(*line);
    return line;
  }
  OGRLinearRing ring;
  fill(ring);
  ring.closeRings();
  auto area = std::make_unique<OGRPolygon>();
  area->addRing(&ring);
  return area;
}

void set_fields(OGRFeature& feature, const Shape& shape) {
  for (const auto& [name, value] : shape.properties) {
    const int index = feature.GetFieldIndex(name.c_str());
    if (index < 0) continue;
    if (const double* number = std::get_if<double>(&value)) {
      if (std::isfinite(*number)) feature.SetField(index, *number);
    } else
      feature.SetField(index, std::get<std::string>(value).c_str());
  }
}

// Outer ring of an area, or of a line that closes; empty otherwise.
Polygon ring_of(const OGRGeometry& geometry) {
  const OGRSimpleCurve* curve = nullptr;
  const auto flat = wkbFlatten(geometry.getGeometryType());
  if (flat == wkbPolygon) curve = geometry.toPolygon()->getExteriorRing();
  if (flat == wkbMultiPolygon && geometry.toMultiPolygon()->getNumGeometries() == 1)
    curve = geometry.toMultiPolygon()->getGeometryRef(0)->getExteriorRing();
  if (flat == wkbLineString) curve = geometry.toLineString();
  Polygon ring;
  if (curve == nullptr) return ring;
  for (int k = 0; k < curve->getNumPoints(); ++k) ring.push_back({curve->getX(k), curve->getY(k)});
  const bool closed = ring.size() > 3 && distance(ring.front(), ring.back()) <= same_corner;
  if (!closed) return {};
  ring.pop_back();
  return ring;
}

// Why an area is no single outline; empty where it is one, or no area.
std::string why_no_outline(const OGRGeometry& geometry) {
  const auto flat = wkbFlatten(geometry.getGeometryType());
  const OGRPolygon* area = flat == wkbPolygon ? geometry.toPolygon() : nullptr;
  if (flat == wkbMultiPolygon) {
    const OGRMultiPolygon* pieces = geometry.toMultiPolygon();
    if (pieces->getNumGeometries() > 1)
      return "an area of " + std::to_string(pieces->getNumGeometries()) + " pieces";
    if (pieces->getNumGeometries() == 1) area = pieces->getGeometryRef(0);
  }
  const int holes = area ? area->getNumInteriorRings() : 0;
  return holes == 0 ? "" : holes == 1 ? "an area with a hole in it" : "an area with holes in it";
}

// Name of a feature: its layer in a drawing, else its property `name`.
std::string name_of(const OGRFeature& feature) {
  for (const char* key : {"Layer", "name", "Name", "NAME"}) {
    const int index = feature.GetFieldIndex(key);
    if (index >= 0 && feature.IsFieldSetAndNotNull(index)) return feature.GetFieldAsString(index);
  }
  return "";
}

// Turned into the system of the yard, where both are known and differ.
void bring(OGRGeometry& geometry, const OGRSpatialReference* own, const std::string& crs,
           const std::string& file) {
  if (crs.empty() || own == nullptr || own->IsEmpty()) return;
  // A GeoJSON file that names no system is said to be in degrees; figures beyond them are the yard's own.
  OGREnvelope box;
  geometry.getEnvelope(&box);
  if (own->IsGeographic() && (std::abs(box.MinX) > 360 || std::abs(box.MaxX) > 360 ||
                              std::abs(box.MinY) > 90 || std::abs(box.MaxY) > 90))
    return;
  OGRSpatialReference from = *own, to = reference_named(crs, file);
  from.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  if (from.IsSame(&to)) return;
  const std::unique_ptr<OGRCoordinateTransformation> turn(OGRCreateCoordinateTransformation(&from, &to));
  if (!turn || geometry.transform(turn.get()) != OGRERR_NONE)
    throw InputError({file, 0, ""}, "coordinates that cannot be brought into " + crs,
                     "coordinates in the yard's system", "save the file in that system.");
}

// The file's own system in another unit than the yard's coordinates, where the yard names no system to turn
// it into.
void hold_against(double unit, const OGRSpatialReference* own, const std::string& file) {
  if (own == nullptr || !own->IsProjected() || std::isnan(unit)) return;
  const double theirs = own->GetLinearUnits(nullptr);
  if (std::abs(theirs / unit - 1) <= 1e-4) return;
  throw InputError(
      {file, 0, ""},
      "coordinates in units of " + rounded(theirs, 6) + " m (" +
          std::string(own->GetName() ? own->GetName() : "unnamed") + ")",
      "coordinates in the yard's unit, " + rounded(unit, 6) + " m",
      "write units = \"" + std::string(std::abs(theirs - 1) < 1e-4 ? "m" : "ft") +
          "\" in [site] where all coordinates are such, or name the yard's own system as `crs`.");
}

bool may_be_geojson(const std::filesystem::path& path) {
  if (lower(path.extension().string()) == ".dxf") return false;
  std::ifstream stream(path, std::ios::binary);
  std::string begin(1024, ' ');
  stream.read(begin.data(), static_cast<std::streamsize>(begin.size()));
  return begin.find('{') < begin.size();
}

DatasetPtr open_shapes(const std::filesystem::path& path, const ErrorCatcher& errors) {
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored))
    throw InputError({path.string(), 0, ""}, "no such file", "a GeoJSON file or a DXF drawing",
                     "check the name; it is looked for beside the site file.");
  const auto bytes = std::filesystem::file_size(path, ignored);
  if (!ignored && bytes > limits::drawing_bytes)
    throw InputError({path.string(), 0, ""},
                     "a drawing of " + rounded(static_cast<double>(bytes) / 1e6) +
                         " MB, which would take several times as much memory",
                     "at most " + rounded(static_cast<double>(limits::drawing_bytes) / 1e6) + " MB",
                     "save the outlines that are needed into a file of their own.");
  const bool geojson = may_be_geojson(path);
  if (!geojson) check_drawing_text(path);
  const char* const allowed[] = {geojson ? "GeoJSON" : "DXF",
                                 nullptr}; // what was not looked through is not read as DXF
  DatasetPtr dataset(GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY, allowed));
  if (!dataset)
    throw InputError({path.string(), 0, ""},
                     "a file that is no GeoJSON and no DXF" +
                         (errors.message().empty() ? std::string() : " (" + errors.message() + ")"),
                     "a GeoJSON file or a DXF drawing", "save the outline as one of them.");
  return dataset;
}

std::string list_of(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t k = 0; k < names.size() && k < 8; ++k) text += (k > 0 ? ", \"" : "\"") + names[k] + "\"";
  return text + (names.size() > 8 ? ", ..." : "");
}

} // namespace

void write_geojson(const std::filesystem::path& path, const std::vector<Shape>& shapes,
                   const std::string& crs) {
  register_drivers();
  const ErrorCatcher errors;
  std::error_code ignored;
  std::filesystem::remove(path, ignored); // the driver refuses to write over a file
  GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GeoJSON");
  DatasetPtr dataset(driver->Create(path.c_str(), 0, 0, 0, GDT_Unknown, nullptr));
  if (!dataset) throw cannot_write(path, errors);
  std::unique_ptr<OGRSpatialReference> reference;
  if (!crs.empty()) reference = std::make_unique<OGRSpatialReference>(reference_named(crs, path.string()));
  OGRLayer* layer = dataset->CreateLayer(path.stem().c_str(), reference.get(), wkbUnknown, nullptr);
  if (!layer) throw cannot_write(path, errors);
  if (!shapes.empty())
    for (const auto& [name, value] : shapes.front().properties) {
      OGRFieldDefn field(name.c_str(), std::holds_alternative<double>(value) ? OFTReal : OFTString);
      if (layer->CreateField(&field) != OGRERR_NONE) throw cannot_write(path, errors);
    }
  for (const Shape& shape : shapes) {
    if (shape.points.empty() || (shape.kind != ShapeKind::point && shape.points.size() < 2)) continue;
    OGRFeature feature(layer->GetLayerDefn());
    set_fields(feature, shape);
    feature.SetGeometryDirectly(geometry_of(shape).release());
    if (layer->CreateFeature(&feature) != OGRERR_NONE) throw cannot_write(path, errors);
  }
  dataset.reset(); // the file is written as it closes
  if (!errors.message().empty() || !std::filesystem::exists(path, ignored)) throw cannot_write(path, errors);
}

Polygon read_outline(const std::filesystem::path& path, const std::string& name, const std::string& crs,
                     double unit) {
  register_drivers();
  const ErrorCatcher errors;
  const DatasetPtr dataset = open_shapes(path, errors);
  const std::string file = path.string();
  std::vector<std::string> names;
  std::vector<Polygon> found;
  std::string holed, in_pieces; // what of the areas asked for is no single outline
  for (OGRLayer* layer : dataset->GetLayers())
    for (const auto& feature : *layer) {
      OGRGeometry* geometry = feature->GetGeometryRef();
      if (geometry == nullptr) continue;
      const std::string why = why_no_outline(*geometry);
      if (why.empty() && ring_of(*geometry).empty()) continue;
      names.push_back(name_of(*feature));
      if (!name.empty() && lower(names.back()) != lower(name)) continue;
      if (!why.empty()) {
        (ring_of(*geometry).empty() ? in_pieces : holed) = why;
        continue;
      }
      if (crs.empty()) hold_against(unit, layer->GetSpatialRef(), file);
      bring(*geometry, layer->GetSpatialRef(), crs, file);
      found.push_back(ring_of(*geometry));
    }
  const std::string which = name.empty() ? "" : " named \"" + name + "\"";
  if (!holed.empty())
    throw InputError(
        {file, 0, ""}, holed + which, "an outline without holes",
        "fill the hole and draw what lies in it as an area of its own, below this one in the site "
        "file; or name another outline after a colon.");
  if (found.empty() && !in_pieces.empty())
    throw InputError({file, 0, ""}, in_pieces + which, "one piece",
                     "save each piece with a name of its own, and name it after a colon.");
  if (found.size() == 1) return found.front();
  if (found.empty())
    throw InputError({file, 0, ""}, "no closed outline" + which,
                     names.empty() ? "an area, or a line that ends where it begins"
                                   : "one of " + list_of(names),
                     "close the line in the drawing, or name another.");
  throw InputError({file, 0, ""}, std::to_string(found.size()) + " outlines" + which, "one",
                   "say which after a colon, as in \"plan.dxf:PATIO\", with one outline a name: " +
                       list_of(names));
}

#endif

} // namespace lowspot::gis
