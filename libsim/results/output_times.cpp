#include <lowspot/results/output_times.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::results {
namespace {
constexpr double minute = 60, hour = 3600;

double interval_at(double time, double end_of_rain) {
  // A storm of days is followed in coarser steps, so that its table stays readable.
  const double storm_interval = end_of_rain > 36 * hour ? 15 * minute : 5 * minute;
  if (time < end_of_rain + 6 * hour) return storm_interval;
  if (time < end_of_rain + 48 * hour) return 30 * minute;
  return hour;
}
} // namespace

OutputTimes plan_outputs(const site::RunOptions& options, double end_of_rain, double end) {
  OutputTimes plan;
  const bool even = std::isfinite(options.output_every) && options.output_every > 0;
  if (even && end / options.output_every > limits::output_rows)
    throw InputError({"", 0, "run.output_every"},
                     rounded(options.output_every) + " s, which makes " +
                         rounded(end / options.output_every) + " rows of every design",
                     "at most " + rounded(limits::output_rows) + " rows",
                     "choose a longer interval, or a shorter `until`");
  double time = 0;
  for (long k = 1; time < end - 1e-6; ++k) {
    plan.times.push_back(time);
    time = even ? static_cast<double>(k) * options.output_every : time + interval_at(time, end_of_rain);
  }
  plan.times.push_back(end);
  const std::size_t stride = (plan.times.size() + most_maps - 1) / most_maps;
  for (std::size_t k = 0; k < plan.times.size(); ++k)
    plan.with_maps.push_back(k % stride == 0 || k + 1 == plan.times.size());
  return plan;
}

} // namespace lowspot::results
