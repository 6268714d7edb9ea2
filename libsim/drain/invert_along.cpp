#include <lowspot/drain/invert_along.hpp>

#include <algorithm>

namespace lowspot::drain {

double invert_along(const Run& run, double along) {
  double passed = 0;
  for (std::size_t k = 1; k < run.path.size(); ++k) {
    const double piece = distance(run.path[k - 1], run.path[k]);
    if (piece > 0 && (along <= passed + piece || k + 1 == run.path.size())) {
      const double share = std::clamp((along - passed) / piece, 0.0, 1.0);
      return run.inverts[k - 1] + share * (run.inverts[k] - run.inverts[k - 1]);
    }
    passed += piece;
  }
  return run.inverts.back();
}

} // namespace lowspot::drain
