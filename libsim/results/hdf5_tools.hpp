// Small steps of writing HDF5 in the layout that CF and netCDF readers expect.
#pragma once
#include <string>
#include <vector>

#include <H5Cpp.h>

namespace lowspot::results::hdf5 {

// Value of cells that hold nothing; the one netCDF readers know.
constexpr float fill_value = 9.96921e36f;

// A variable of a file. The library's own closes what it still holds when it goes, and prints where it
// cannot, as on a full disk; this one is silent then, since the write that failed is reported already. Where
// nothing has been written out since, call close(), which throws.
class Variable : public H5::DataSet {
public:
  Variable() = default;
  // Takes over what the library made or opened.
  Variable(const H5::DataSet& made) : H5::DataSet(made) {} // NOLINT(google-explicit-constructor)
  Variable(const Variable&) = default;
  Variable& operator=(const Variable&) = default;
  ~Variable() override;
};

// A scalar text attribute of fixed length, which is what the most readers understand.
void text_attribute(const H5::H5Object& object, const std::string& name, const std::string& text);
void number_attribute(const H5::H5Object& object, const std::string& name, double value);
void int_attribute(const H5::H5Object& object, const std::string& name, const std::vector<int>& values);

// Creates a file that keeps the order of what is put in it, in a format old readers know. Nothing of what is
// made by the functions here holds the time at which it was made.
H5::H5File create_file(const std::string& path);
// Makes an empty group. Throws H5::Exception where the library cannot.
void create_group(const H5::H5File& file, const std::string& name);
// Dataset properties that go with it.
H5::DSetCreatPropList ordered_properties();

// A coordinate variable: a one-dimensional dimension scale, growing when `grows`. id: its place among
// dimensions.
Variable coordinate(const H5::H5File& file, const std::string& name, const std::vector<double>& values,
                    int id, bool grows);

// A compressed map variable (y, x), or (time, y, x) with one chunk a frame, its dimensions attached.
struct Dimensions {
  Variable time, y, x;    // their coordinate variables
  hsize_t ny = 0, nx = 0; // cells to the north and to the east
};
// A variable of one value a cell, with its links to the grid; over time with one more dimension.
Variable map_variable(const H5::H5File& file, const std::string& name, const Dimensions& dimensions,
                      bool over_time);

// Writes one frame of a (time, y, x) variable, extending it as far as needed.
void write_frame(const H5::DataSet& variable, hsize_t frame, hsize_t ny, hsize_t nx,
                 const std::vector<float>& values);
// Appends to a growing coordinate.
void append(const H5::DataSet& coordinate, hsize_t position, double value);

} // namespace lowspot::results::hdf5
