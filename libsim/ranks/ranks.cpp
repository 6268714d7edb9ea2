#include <lowspot/ranks/ranks.hpp>

#ifdef LOWSPOT_WITH_MPI
#include <chrono>
#include <cstdlib>
#include <thread>

#include <mpi.h>
#endif

namespace lowspot::ranks {

#ifdef LOWSPOT_WITH_MPI

bool with_mpi() {
  return true;
}

Ranks::Ranks() {
  // Joining takes a while and opens sockets: only where there are others.
  const char* const signs[] = {"OMPI_COMM_WORLD_SIZE", "PMI_SIZE", "PMIX_RANK"};
  bool started = false;
  for (const char* sign : signs) started = started || std::getenv(sign) != nullptr;
  if (!started) return;
  int given = 0;
  MPI_Init_thread(nullptr, nullptr, MPI_THREAD_FUNNELED, &given);
  MPI_Comm_rank(MPI_COMM_WORLD, &rank_);
  MPI_Comm_size(MPI_COMM_WORLD, &size_);
  joined_ = true;
}

Ranks::~Ranks() {
  if (joined_) MPI_Abort(MPI_COMM_WORLD, 1); // never left: an error unwound past leave()
}

int Ranks::leave(int code, bool failed) {
  if (!joined_) return code;
  if (failed && size_ > 1) {
    if (!leads()) std::this_thread::sleep_for(std::chrono::seconds(30));
    MPI_Abort(MPI_COMM_WORLD, code);
  }
  MPI_Finalize();
  joined_ = false;
  return code;
}

#else

bool with_mpi() {
  return false;
}

Ranks::Ranks() = default;

Ranks::~Ranks() {} // one process has no others to leave

int Ranks::leave(int code, bool) {
  return code;
}

#endif

} // namespace lowspot::ranks
