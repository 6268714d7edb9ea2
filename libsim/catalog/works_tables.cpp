#include <lowspot/catalog/rows.hpp>
#include <lowspot/catalog/tables.hpp>

namespace lowspot::catalog {
namespace {
const ColumnUnit square_centimetres_a_metre{"_cm2_m", 1e-4};
const ColumnUnit metres_a_second{"_m_s", 1};
const ColumnUnit a_second{"_1_s", 1};
} // namespace

std::vector<Pipe> read_pipes(const std::filesystem::path& file) {
  return read_rows<Pipe>(file, "name", [](const RowReader& row) {
    Pipe pipe;
    pipe.name = row.text("name");
    pipe.nominal = row.number("nominal", inches, {0.5, 60});
    pipe.inside_diameter = row.number("inside_diameter", inches, {0.5, 60});
    pipe.outside_diameter = row.number("outside_diameter", inches, {0.5, 70});
    if (pipe.outside_diameter <= pipe.inside_diameter)
      row.refuse("outside_diameter_in", "a pipe without a wall", "more than the inside diameter");
    pipe.manning_n = row.figure("manning_n", plain, {0.005, 0.05});
    pipe.slot_area = row.number("slot_area", square_centimetres_a_metre, {0, 1000});
    pipe.from = row.source();
    return pipe;
  });
}

std::vector<Stone> read_stone(const std::filesystem::path& file) {
  return read_rows<Stone>(file, "name", [](const RowReader& row) {
    Stone stone;
    stone.name = row.text("name");
    stone.d10 = row.number("d10", millimetres, {0.1, 300});
    stone.d50 = row.number("d50", millimetres, {0.1, 300});
    if (stone.d10 > stone.d50) row.refuse("d10_mm", "more than d50", "at most d50");
    stone.porosity = row.figure("porosity", plain, {0.1, 0.7});
    stone.conductivity = row.figure("conductivity", metres_a_second, {1e-5, 10});
    stone.forchheimer_b = row.number("forchheimer_b", {"_s2_m2", 1}, {0, 1e6});
    stone.bulk_density = row.number("bulk_density", {"_kg_m3", 1}, {500, 3000});
    stone.from = row.source();
    return stone;
  });
}

std::vector<Fabric> read_fabric(const std::filesystem::path& file) {
  return read_rows<Fabric>(file, "name", [](const RowReader& row) {
    Fabric fabric;
    fabric.name = row.text("name");
    fabric.permittivity = row.figure("permittivity", a_second, {1e-4, 100});
    fabric.opening_size = row.number("opening_size", millimetres, {0.01, 5});
    fabric.from = row.source();
    return fabric;
  });
}

std::vector<Cap> read_caps(const std::filesystem::path& file) {
  return read_rows<Cap>(file, "name", [](const RowReader& row) {
    Cap cap;
    cap.name = row.text("name");
    cap.conductivity = row.figure("conductivity", metres_a_second, {0, 10});
    cap.depth = row.number("depth", inches, {0, 60});
    cap.from = row.source();
    return cap;
  });
}

} // namespace lowspot::catalog
