// results.nc: maps over time in HDF5, laid out by the CF conventions so that map and science viewers open it.
#pragma once
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>

namespace lowspot::results {

// A results file that grows while runs go on. It is written beside its final name, as NAME.part, and flushed
// as it grows: what a killed run leaves behind can be opened. One thread at a time.
//
// Coordinates time [s from the start of the storm], y and x (cell centres, row 0 in the south);
// ground_elevation and cover; and for each design, with its name made safe (slug.hpp, and a number where a
// variable would else be called as one of another design): depth_NAME,
// perched_NAME, root_moisture_NAME over time, max_depth_NAME, standing_hours_NAME, soggy_hours_NAME,
// perched_max_NAME. Cells outside the yard or under a building hold the fill value.
class ResultsFile {
public:
  // head: only what describes the yard and names the designs is used, not what the designs recorded.
  // times: frame times known beforehand [s], increasing; later ones are added as frames arrive.
  // Throws InputError when the file cannot be written.
  ResultsFile(const Comparison& head, const std::filesystem::path& path, std::vector<double> times = {});
  ~ResultsFile();
  ResultsFile(ResultsFile&&) noexcept;
  ResultsFile& operator=(ResultsFile&&) noexcept;

  // design: its place in head.designs. The frame's time must be a known time or later than all of them
  // (otherwise std::invalid_argument); a map that is empty is left out.
  void add_frame(std::size_t design, const Frame& frame);
  // The maps of a whole run; an empty one is left out.
  void add_maps(std::size_t design, const DesignRecord& record);
  void flush();
  // Closes the file and gives it its name.
  void finish();

private:
  struct State;
  std::unique_ptr<State> state_;
};

// Writes all of a comparison at once.
void write_results_nc(const Comparison& comparison, const std::filesystem::path& path);

} // namespace lowspot::results
