#include "interrupt.hpp"

#include <atomic>
#include <csignal>

#include <poll.h>
#include <unistd.h>

#include "commands.hpp"

namespace lowspot::cli {
namespace {

// A signal handler can reach nothing but a global.
std::atomic<bool> asked{false};  // NOLINT(cppcoreguidelines-avoid-non-const-global-variables)
std::atomic<bool> heeded{false}; // NOLINT(cppcoreguidelines-avoid-non-const-global-variables)
static_assert(std::atomic<bool>::is_always_lock_free);

void stop_or_end(int) {
  if (heeded && !asked.exchange(true)) return;
  constexpr char words[] = "\nStopped by you.\n";
  [[maybe_unused]] const auto written = write(STDERR_FILENO, words, sizeof words - 1);
  _exit(stopped);
}

} // namespace

void listen_for_stop(bool heed) {
  heeded = heed;
  std::signal(SIGINT, stop_or_end);
  std::signal(SIGTERM, stop_or_end);
  std::signal(SIGPIPE, SIG_IGN);
}

bool stop_asked() {
  heeded = true;
  return asked;
}

bool reader_gone() {
  pollfd out{STDOUT_FILENO, POLLOUT, 0};
  return poll(&out, 1, 0) > 0 && (out.revents & POLLERR) != 0;
}

} // namespace lowspot::cli
