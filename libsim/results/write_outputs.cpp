#include <lowspot/results/write_outputs.hpp>

#include <lowspot/results/hydrographs_csv.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/results/results_nc.hpp>
#include <lowspot/results/summary_json.hpp>

namespace lowspot::results {

void write_outputs(const Comparison& comparison, const std::filesystem::path& folder, bool overwrite) {
  prepare_output_folder(folder, comparison.site_name, overwrite);
  write_results_nc(comparison, folder / "results.nc");
  write_whole_file(folder / "hydrographs.csv", hydrographs_csv(comparison));
  write_whole_file(folder / "summary.json", summary_json(comparison));
}

} // namespace lowspot::results
