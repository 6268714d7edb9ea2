#include <lowspot/base/memory.hpp>

#include <algorithm>
#include <limits>

#if __has_include(<sys/resource.h>) && __has_include(<unistd.h>)
#include <sys/resource.h>
#include <unistd.h>
#define LOWSPOT_ASKS_FOR_MEMORY
#endif

#include <lowspot/base/text.hpp>

namespace lowspot {

double memory_at_hand() {
  double bytes = std::numeric_limits<double>::infinity();
#ifdef LOWSPOT_ASKS_FOR_MEMORY
  const long pages = sysconf(_SC_PHYS_PAGES), page = sysconf(_SC_PAGESIZE);
  if (pages > 0 && page > 0) bytes = static_cast<double>(pages) * static_cast<double>(page);
  rlimit limit{};
  if (getrlimit(RLIMIT_AS, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY)
    bytes = std::min(bytes, static_cast<double>(limit.rlim_cur));
#endif
  return bytes;
}

void require_memory(double bytes, const Where& where, const std::string& what, const std::string& mend,
                    double at_hand) {
  if (bytes <= at_hand) return;
  throw InputError(where, what + ", which need about " + rounded(bytes / 1e9, 2) + " GB of memory",
                   "at most the " + rounded(at_hand / 1e9, 2) + " GB that this computer gives", mend);
}

} // namespace lowspot
