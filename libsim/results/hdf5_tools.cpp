#include <lowspot/results/hdf5_tools.hpp>

#include <cstdint>

#include <hdf5_hl.h>

namespace lowspot::results::hdf5 {
namespace {

// Netcdf tools can edit a file only when the order of creation was kept everywhere.
constexpr unsigned kept_order = H5P_CRT_ORDER_TRACKED | H5P_CRT_ORDER_INDEXED;

void check(herr_t status, const char* what) {
  if (status < 0) throw H5::DataSetIException(what, "the HDF5 library refused");
}

} // namespace

Variable::~Variable() {
  try {
    close();
  } catch (const H5::Exception&) { // after this the library finds nothing more to close
  }
}

void text_attribute(const H5::H5Object& object, const std::string& name, const std::string& text) {
  H5::StrType type(H5::PredType::C_S1, text.size() + 1);
  type.setCset(H5T_CSET_UTF8);
  type.setStrpad(H5T_STR_NULLTERM);
  object.createAttribute(name, type, H5::DataSpace(H5S_SCALAR)).write(type, text);
}

void number_attribute(const H5::H5Object& object, const std::string& name, double value) {
  const hsize_t one = 1;
  object.createAttribute(name, H5::PredType::NATIVE_DOUBLE, H5::DataSpace(1, &one))
      .write(H5::PredType::NATIVE_DOUBLE, &value);
}

void int_attribute(const H5::H5Object& object, const std::string& name, const std::vector<int>& values) {
  const std::vector<std::int32_t> exact(values.begin(), values.end());
  const hsize_t count = exact.size();
  object.createAttribute(name, H5::PredType::NATIVE_INT32, H5::DataSpace(1, &count))
      .write(H5::PredType::NATIVE_INT32, exact.data());
}

// No hour of the day is written: two runs of one yard leave the same file to the byte.
H5::H5File create_file(const std::string& path) {
  H5::FileCreatPropList creation;
  check(H5Pset_obj_track_times(creation.getId(), false), "times");
  check(H5Pset_link_creation_order(creation.getId(), kept_order), "link order");
  check(H5Pset_attr_creation_order(creation.getId(), kept_order), "attribute order");
  H5::FileAccPropList access;
  // The latest format would leave a file that cannot be opened when the run is killed.
  check(H5Pset_libver_bounds(access.getId(), H5F_LIBVER_EARLIEST, H5F_LIBVER_V18), "format bounds");
  return H5::H5File(path, H5F_ACC_TRUNC, creation, access);
}

H5::DSetCreatPropList ordered_properties() {
  H5::DSetCreatPropList properties;
  check(H5Pset_obj_track_times(properties.getId(), false), "times");
  check(H5Pset_attr_creation_order(properties.getId(), kept_order), "attribute order");
  return properties;
}

void create_group(const H5::H5File& file, const std::string& name) {
  const H5::PropList properties(H5P_GROUP_CREATE);
  check(H5Pset_obj_track_times(properties.getId(), false), "times");
  const hid_t made = H5Gcreate2(file.getId(), name.c_str(), H5P_DEFAULT, properties.getId(), H5P_DEFAULT);
  if (made < 0) throw H5::FileIException("create_group", "the HDF5 library refused");
  check(H5Gclose(made), "group");
}

Variable coordinate(const H5::H5File& file, const std::string& name, const std::vector<double>& values,
                    int id, bool grows) {
  const hsize_t count = values.size();
  const hsize_t most = grows ? H5S_UNLIMITED : count;
  H5::DSetCreatPropList properties = ordered_properties();
  if (grows) {
    const hsize_t chunk = 256;
    properties.setChunk(1, &chunk);
  }
  Variable made =
      file.createDataSet(name, H5::PredType::NATIVE_DOUBLE, H5::DataSpace(1, &count, &most), properties);
  if (count > 0) made.write(values.data(), H5::PredType::NATIVE_DOUBLE);
  check(H5DSset_scale(made.getId(), name.c_str()), "dimension scale");
  int_attribute(made, "_Netcdf4Dimid", {id});
  return made;
}

Variable map_variable(const H5::H5File& file, const std::string& name, const Dimensions& dimensions,
                      bool over_time) {
  const hsize_t now[3] = {0, dimensions.ny, dimensions.nx};
  const hsize_t most[3] = {H5S_UNLIMITED, dimensions.ny, dimensions.nx};
  const hsize_t chunk[3] = {1, dimensions.ny, dimensions.nx};
  const int skip = over_time ? 0 : 1;
  const int rank = 3 - skip;
  H5::DSetCreatPropList properties = ordered_properties();
  properties.setChunk(rank, chunk + skip);
  properties.setShuffle();
  properties.setDeflate(4);
  properties.setFillValue(H5::PredType::NATIVE_FLOAT, &fill_value);
  Variable made = file.createDataSet(name, H5::PredType::NATIVE_FLOAT,
                                     H5::DataSpace(rank, now + skip, most + skip), properties);
  const hsize_t one = 1;
  made.createAttribute("_FillValue", H5::PredType::NATIVE_FLOAT, H5::DataSpace(1, &one))
      .write(H5::PredType::NATIVE_FLOAT, &fill_value);
  unsigned place = 0;
  if (over_time) check(H5DSattach_scale(made.getId(), dimensions.time.getId(), place++), "dimension time");
  check(H5DSattach_scale(made.getId(), dimensions.y.getId(), place++), "dimension y");
  check(H5DSattach_scale(made.getId(), dimensions.x.getId(), place), "dimension x");
  return made;
}

void write_frame(const H5::DataSet& variable, hsize_t frame, hsize_t ny, hsize_t nx,
                 const std::vector<float>& values) {
  hsize_t size[3] = {0, 0, 0};
  variable.getSpace().getSimpleExtentDims(size);
  if (size[0] < frame + 1) {
    const hsize_t larger[3] = {frame + 1, ny, nx};
    variable.extend(larger);
  }
  const hsize_t start[3] = {frame, 0, 0};
  const hsize_t count[3] = {1, ny, nx};
  H5::DataSpace place = variable.getSpace();
  place.selectHyperslab(H5S_SELECT_SET, count, start);
  variable.write(values.data(), H5::PredType::NATIVE_FLOAT, H5::DataSpace(3, count), place);
}

void append(const H5::DataSet& coordinate, hsize_t position, double value) {
  const hsize_t larger = position + 1;
  const hsize_t one = 1;
  coordinate.extend(&larger);
  H5::DataSpace place = coordinate.getSpace();
  place.selectHyperslab(H5S_SELECT_SET, &one, &position);
  coordinate.write(&value, H5::PredType::NATIVE_DOUBLE, H5::DataSpace(1, &one), place);
}

} // namespace lowspot::results::hdf5
