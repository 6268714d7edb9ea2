#include <lowspot/results/results_nc.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>

#include <lowspot/base/error.hpp>
#include <lowspot/results/georeference.hpp>
#include <lowspot/results/hdf5_tools.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/results/slug.hpp>

namespace lowspot::results {
namespace {

constexpr int frames_between_flushes = 10;
const std::string own_elevation_prefix = "ground_elevation_"; // of a design that shapes the ground

struct Quantity {
  const char* prefix;
  const char* unit;
  const char* meaning;
  const char* cell_methods; // empty: a map of the whole run
};
enum { depth, perched, root_moisture, max_depth, standing_hours, soggy_hours, perched_max, quantity_count };
constexpr Quantity quantities[quantity_count] = {
    {"depth_", "m", "depth of water on the ground", "time: point"},
    {"perched_", "m", "saturated thickness over the tight layer", "time: point"},
    {"root_moisture_", "1", "water content of the root zone", "time: point"},
    {"max_depth_", "m", "greatest depth of water on the ground", ""},
    {"standing_hours_", "hours", "time that water stands after the rain", ""},
    {"soggy_hours_", "hours", "time that the perched water is near the surface", ""},
    {"perched_max_", "m", "greatest saturated thickness over the tight layer", ""},
};

// One ending a design, such that no two variables of the file have one name: of the designs "drain" and
// "max drain" the thickness of one and the greatest of the other would both be called perched_max_drain.
std::vector<std::string> variable_endings(const std::vector<std::string>& designs) {
  std::set<std::string> taken;
  const auto each_name = [](const std::string& ending) {
    std::vector<std::string> made = {own_elevation_prefix + ending};
    for (const Quantity& quantity : quantities) made.push_back(quantity.prefix + ending);
    return made;
  };
  std::vector<std::string> endings;
  for (const std::string& base : slugs(designs)) {
    std::string ending = base;
    std::vector<std::string> wanted = each_name(ending);
    const auto is_taken = [&](const std::string& name) { return taken.count(name) > 0; };
    for (int number = 2; std::any_of(wanted.begin(), wanted.end(), is_taken); ++number) {
      ending = base + "_" + std::to_string(number);
      wanted = each_name(ending);
    }
    taken.insert(wanted.begin(), wanted.end());
    endings.push_back(ending);
  }
  return endings;
}

InputError cannot_write(const std::filesystem::path& path, const H5::Exception& error) {
  return InputError({path.string(), 0, ""}, "that it cannot be written (" + error.getDetailMsg() + ")",
                    "a file that no other program holds open, and room on the disk",
                    "make room, or close viewers of the old results.nc; on a network disk set "
                    "HDF5_USE_FILE_LOCKING=FALSE.");
}

// A file that cannot be closed is half gone, and the library would crash over it at a second try: so it stays
// as it is.
void close_file(H5::H5File* file) {
  file->close();
  delete file;
}
// For a file that is left after a write that failed, and that is reported already.
struct CloseQuietly {
  void operator()(H5::H5File* file) const noexcept {
    try {
      close_file(file);
    } catch (const H5::Exception&) {
    }
  }
};

} // namespace

struct ResultsFile::State {
  std::filesystem::path path;
  std::unique_ptr<H5::H5File, CloseQuietly> file; // goes after what is in it, below
  hdf5::Dimensions dimensions;
  Mask active;
  std::vector<double> times;
  std::vector<std::vector<hdf5::Variable>> designs; // [design][quantity]
  std::vector<std::string> names, safe_names;       // one a design
  int frames_since_flush = 0;

  hsize_t place_of(double time);
  std::vector<float> masked(const std::vector<float>& values) const;
  std::vector<float> masked(const Field& values) const;
  hdf5::Variable variable(const std::string& name, bool over_time, const std::string& unit,
                          const std::string& long_name) const;
  void write_map(const H5::DataSet& variable, const std::vector<float>& values) const;
  void write_once(hdf5::Variable variable, const std::vector<float>& values) const;
  void write_head(const Comparison& head);
  void write_cover(const Comparison& head) const;
};

hsize_t ResultsFile::State::place_of(double time) {
  const double near = 1e-6 * std::max(1.0, std::abs(time)); // the same moment, reached by two clocks
  const auto found = std::lower_bound(times.begin(), times.end(), time - near);
  if (found != times.end() && std::abs(*found - time) <= near)
    return static_cast<hsize_t>(found - times.begin());
  if (found != times.end()) throw std::invalid_argument("a frame between times that are already written");
  hdf5::append(dimensions.time, times.size(), time);
  times.push_back(time);
  return times.size() - 1;
}

std::vector<float> ResultsFile::State::masked(const std::vector<float>& values) const {
  if (values.size() != active.size()) throw std::invalid_argument("a map that does not fit the grid");
  std::vector<float> kept(values);
  for (std::size_t cell = 0; cell < kept.size(); ++cell)
    if (!active[cell] || !std::isfinite(kept[cell])) kept[cell] = hdf5::fill_value;
  return kept;
}

std::vector<float> ResultsFile::State::masked(const Field& values) const {
  return masked(std::vector<float>(values.begin(), values.end()));
}

hdf5::Variable ResultsFile::State::variable(const std::string& name, bool over_time, const std::string& unit,
                                            const std::string& long_name) const {
  hdf5::Variable made = hdf5::map_variable(*file, name, dimensions, over_time);
  hdf5::text_attribute(made, "units", unit);
  hdf5::text_attribute(made, "long_name", long_name);
  hdf5::text_attribute(made, "grid_mapping", grid_mapping_path);
  return made;
}

void ResultsFile::State::write_map(const H5::DataSet& variable, const std::vector<float>& values) const {
  variable.write(values.data(), H5::PredType::NATIVE_FLOAT);
}

// Writes a variable that nothing more is written to. What closes it says whether all of it was written.
void ResultsFile::State::write_once(hdf5::Variable variable, const std::vector<float>& values) const {
  write_map(variable, values);
  variable.close();
}

void ResultsFile::State::write_cover(const Comparison& head) const {
  if (head.cover.size() != active.size()) return;
  hdf5::Variable made =
      variable("cover", false, "1", "ground cover, as its place among the areas; -1 the lawn");
  write_map(made, masked(std::vector<float>(head.cover.begin(), head.cover.end())));
  if (!head.cover_names.empty()) {
    std::vector<int> values = {-1};
    std::string meanings = "lawn";
    for (std::size_t area = 0; area < head.cover_names.size(); ++area) {
      values.push_back(static_cast<int>(area));
      meanings += ' ' + slug(head.cover_names[area]);
    }
    hdf5::int_attribute(made, "flag_values", values);
    hdf5::text_attribute(made, "flag_meanings", meanings);
  }
  made.close();
}

void ResultsFile::State::write_head(const Comparison& head) {
  const H5::Group root = file->openGroup("/");
  hdf5::text_attribute(root, "Conventions", "CF-1.8");
  hdf5::text_attribute(root, "title", "Standing water in the yard " + head.site_name);
  hdf5::text_attribute(root, "source", "lowspot " + head.version);
  hdf5::text_attribute(root, "history", "written by lowspot compare");

  const Georeference place = georeference(head);
  dimensions.nx = static_cast<hsize_t>(head.grid.nx);
  dimensions.ny = static_cast<hsize_t>(head.grid.ny);
  dimensions.time = hdf5::coordinate(*file, "time", times, 0, true);
  dimensions.y = hdf5::coordinate(*file, "y", place.y, 1, false);
  dimensions.x = hdf5::coordinate(*file, "x", place.x, 2, false);
  hdf5::text_attribute(dimensions.time, "standard_name", "time");
  // A storm has no date: the day is a convention, so that readers who insist on one can show the hours.
  hdf5::text_attribute(dimensions.time, "units", "seconds since 2000-01-01 00:00:00");
  hdf5::text_attribute(dimensions.time, "long_name", "time from the start of the storm");
  hdf5::text_attribute(dimensions.time, "calendar", "standard");
  hdf5::text_attribute(dimensions.time, "axis", "T");
  // No axis attribute on x and y: some viewers would take them for longitude and latitude.
  hdf5::text_attribute(dimensions.x, "standard_name", "projection_x_coordinate");
  hdf5::text_attribute(dimensions.y, "standard_name", "projection_y_coordinate");
  hdf5::text_attribute(dimensions.x, "units", place.unit_name);
  hdf5::text_attribute(dimensions.y, "units", place.unit_name);
  write_grid_mapping(*file, place);

  if (head.elevation.size() == active.size())
    write_once(variable("ground_elevation", false, "m", "elevation of the ground"), masked(head.elevation));
  write_cover(head);
}

ResultsFile::ResultsFile(const Comparison& head, const std::filesystem::path& path, std::vector<double> times)
    : state_(std::make_unique<State>()) {
  H5::Exception::dontPrint();
  state_->path = path;
  state_->times = std::move(times);
  state_->active = head.active.empty() ? Mask(head.grid.cells(), 1) : head.active;
  if (state_->active.size() != head.grid.cells())
    throw std::invalid_argument("a mask that does not fit the grid");
  try {
    state_->file =
        std::unique_ptr<H5::H5File, CloseQuietly>(new H5::H5File(hdf5::create_file(part_of(path).string())));
    state_->write_head(head);
    std::vector<std::string> names;
    for (const DesignRecord& design : head.designs) names.push_back(design.name);
    const std::vector<std::string> safe = variable_endings(names);
    state_->names = names;
    state_->safe_names = safe;
    for (std::size_t design = 0; design < names.size(); ++design) {
      auto& variables = state_->designs.emplace_back();
      for (const Quantity& quantity : quantities) {
        const bool over_time = quantity.cell_methods[0] != '\0';
        variables.push_back(state_->variable(quantity.prefix + safe[design], over_time, quantity.unit,
                                             std::string(quantity.meaning) + ", " + names[design]));
        if (over_time) hdf5::text_attribute(variables.back(), "cell_methods", quantity.cell_methods);
      }
    }
    flush(); // before the first flush a killed run would leave nothing that opens
  } catch (const H5::Exception& error) {
    throw cannot_write(path, error);
  }
}

ResultsFile::~ResultsFile() = default;
ResultsFile::ResultsFile(ResultsFile&&) noexcept = default;
ResultsFile& ResultsFile::operator=(ResultsFile&&) noexcept = default;

void ResultsFile::add_frame(std::size_t design, const Frame& frame) {
  const auto& variables = state_->designs.at(design);
  try {
    const hsize_t place = state_->place_of(frame.time);
    const auto write = [&](int quantity, const std::vector<float>& values) {
      if (!values.empty())
        hdf5::write_frame(variables[static_cast<std::size_t>(quantity)], place, state_->dimensions.ny,
                          state_->dimensions.nx, state_->masked(values));
    };
    write(depth, frame.depth);
    write(perched, frame.perched);
    write(root_moisture, frame.root_moisture);
    if (++state_->frames_since_flush >= frames_between_flushes) flush();
  } catch (const H5::Exception& error) {
    throw cannot_write(state_->path, error);
  }
}

void ResultsFile::add_maps(std::size_t design, const DesignRecord& record) {
  const auto& variables = state_->designs.at(design);
  try {
    const auto write = [&](int quantity, const Field& values) {
      if (!values.empty())
        state_->write_map(variables[static_cast<std::size_t>(quantity)], state_->masked(values));
    };
    write(max_depth, record.max_depth);
    write(standing_hours, record.standing_hours);
    write(soggy_hours, record.soggy_hours);
    write(perched_max, record.perched_max);
    if (!record.own_elevation.empty())
      state_->write_once(state_->variable(own_elevation_prefix + state_->safe_names[design], false, "m",
                                          "elevation of the ground, " + state_->names[design]),
                         state_->masked(record.own_elevation));
    flush();
  } catch (const H5::Exception& error) {
    throw cannot_write(state_->path, error);
  }
}

void ResultsFile::flush() {
  state_->file->flush(H5F_SCOPE_GLOBAL);
  state_->frames_since_flush = 0;
}

void ResultsFile::finish() {
  try {
    // Every variable grows to the length of the time axis, filled where a design has no frame.
    for (const auto& variables : state_->designs)
      for (int quantity = depth; quantity <= root_moisture; ++quantity) {
        const hsize_t size[3] = {state_->times.size(), state_->dimensions.ny, state_->dimensions.nx};
        variables[static_cast<std::size_t>(quantity)].extend(size);
      }
    flush(); // while all is open: a variable that cannot be written out as it goes would say nothing
    state_->designs.clear();
    state_->dimensions = {};
    close_file(state_->file.release());
  } catch (const H5::Exception& error) {
    throw cannot_write(state_->path, error);
  }
  rename_part(state_->path);
}

void write_results_nc(const Comparison& comparison, const std::filesystem::path& path) {
  std::vector<double> times;
  for (const DesignRecord& design : comparison.designs)
    for (const Frame& frame : design.frames) times.push_back(frame.time);
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end(),
                          [](double a, double b) { return b - a <= 1e-6 * std::max(1.0, std::abs(b)); }),
              times.end());
  ResultsFile file(comparison, path, times);
  for (std::size_t design = 0; design < comparison.designs.size(); ++design) {
    for (const Frame& frame : comparison.designs[design].frames) file.add_frame(design, frame);
    file.add_maps(design, comparison.designs[design]);
  }
  file.finish();
}

} // namespace lowspot::results
