#include <lowspot/rain/nrcs.hpp>

#include <algorithm>
#include <stdexcept>

namespace lowspot::rain {
namespace {
// Half-hourly ordinates from 0 to 24 h. Types I, IA and II are the values common to the published tables of
// their time, which differ by 0.001 here and there; III was seen at 0.5, 1, 8.5, 9, 16.5 and 17 h and is
// symmetric.
constexpr double type_i[] = {
    0.0,   0.008, 0.017, 0.026, 0.035, 0.045, 0.055, 0.065, 0.076, 0.087, 0.099, 0.112, 0.126,
    0.14,  0.156, 0.174, 0.194, 0.219, 0.254, 0.303, 0.515, 0.583, 0.624, 0.654, 0.682, 0.706,
    0.728, 0.748, 0.766, 0.783, 0.799, 0.815, 0.83,  0.844, 0.857, 0.87,  0.882, 0.893, 0.905,
    0.916, 0.926, 0.936, 0.946, 0.955, 0.965, 0.974, 0.983, 0.992, 1.0,
};
constexpr double type_ia[] = {
    0.0,   0.01,  0.022, 0.036, 0.051, 0.067, 0.083, 0.099, 0.116, 0.135, 0.156, 0.179, 0.204,
    0.233, 0.268, 0.31,  0.425, 0.48,  0.52,  0.55,  0.577, 0.601, 0.623, 0.644, 0.664, 0.683,
    0.701, 0.719, 0.736, 0.753, 0.769, 0.785, 0.8,   0.815, 0.83,  0.843, 0.856, 0.869, 0.882,
    0.894, 0.906, 0.918, 0.93,  0.942, 0.953, 0.965, 0.977, 0.989, 1.0,
};
constexpr double type_ii[] = {
    0.0,    0.0053, 0.0108, 0.0164, 0.0223, 0.0284, 0.0347, 0.0414, 0.0483, 0.0555, 0.0632, 0.0712, 0.0797,
    0.0887, 0.0984, 0.1089, 0.1203, 0.1328, 0.1467, 0.1625, 0.1808, 0.2042, 0.2351, 0.2833, 0.6632, 0.7351,
    0.7724, 0.7989, 0.8197, 0.838,  0.8538, 0.8676, 0.8801, 0.8914, 0.9019, 0.9115, 0.9206, 0.9291, 0.9371,
    0.9446, 0.9519, 0.9588, 0.9653, 0.9717, 0.9777, 0.9836, 0.9892, 0.9947, 1.0,
};
constexpr double type_iii[] = {
    0.0,    0.005,  0.01,   0.015,  0.02,   0.0252, 0.0308, 0.0367, 0.043,  0.0497, 0.0568, 0.0642, 0.072,
    0.0806, 0.0905, 0.1016, 0.114,  0.1284, 0.1458, 0.1659, 0.189,  0.2165, 0.25,   0.298,  0.5,    0.702,
    0.75,   0.7835, 0.811,  0.8341, 0.8542, 0.8716, 0.886,  0.8984, 0.9095, 0.9194, 0.928,  0.9358, 0.9432,
    0.9503, 0.957,  0.9634, 0.9694, 0.9752, 0.9808, 0.986,  0.9909, 0.9956, 1.0,
};
// Half-hourly steps hide the burst of type II: its ordinates every 0.1 h from 11.5 to 12.5 h.
constexpr double type_ii_burst[] = {
    0.2833, 0.3068, 0.3544, 0.4308, 0.5679, 0.6632, 0.682, 0.6986, 0.713, 0.7252, 0.7351,
};

DayDistribution half_hourly(const double (&ordinates)[49]) {
  DayDistribution distribution;
  for (int k = 0; k < 49; ++k) {
    distribution.hour.push_back(0.5 * k);
    distribution.share.push_back(ordinates[k]);
  }
  return distribution;
}
} // namespace

double DayDistribution::at(double hours) const {
  if (hour.empty()) throw std::invalid_argument("a distribution of no type: it has no ordinates");
  if (hours <= 0) return 0;
  if (hours >= hour.back()) return share.back();
  const std::size_t k = std::upper_bound(hour.begin(), hour.end(), hours) - hour.begin();
  return share[k - 1] + (share[k] - share[k - 1]) * (hours - hour[k - 1]) / (hour[k] - hour[k - 1]);
}

DayDistribution nrcs_distribution(const std::string& type) {
  if (type == "i") return half_hourly(type_i);
  if (type == "ia") return half_hourly(type_ia);
  if (type == "iii") return half_hourly(type_iii);
  if (type != "ii") return {};
  DayDistribution coarse = half_hourly(type_ii), fine;
  for (std::size_t k = 0; k < coarse.hour.size(); ++k) {
    if (coarse.hour[k] == 11.5) {
      for (int step = 0; step < 11; ++step) {
        fine.hour.push_back(11.5 + 0.1 * step);
        fine.share.push_back(type_ii_burst[step]);
      }
    } else if (coarse.hour[k] < 11.5 || coarse.hour[k] > 12.5) {
      fine.hour.push_back(coarse.hour[k]);
      fine.share.push_back(coarse.share[k]);
    }
  }
  return fine;
}

} // namespace lowspot::rain
