#include <lowspot/ranks/rank_executor.hpp>

#ifdef LOWSPOT_WITH_MPI
#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdlib>
#include <deque>
#include <exception>
#include <mutex>
#include <stdexcept>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include <mpi.h>

#include <lowspot/base/error.hpp>
#endif

namespace lowspot::ranks {

#ifdef LOWSPOT_WITH_MPI
namespace {

// What a message is: its tag.
enum Message { ready = 1, job = 2, result = 3, failure = 4, bad_input = 5 };
constexpr int no_more = -1, stop = -2; // in place of a job's number
constexpr auto nap = std::chrono::milliseconds(1);

void send_text(int to, Message what, int number, const std::string& text) {
  std::string packed(reinterpret_cast<const char*>(&number), sizeof number);
  packed += text;
  MPI_Send(packed.data(), static_cast<int>(packed.size()), MPI_BYTE, to, what, MPI_COMM_WORLD);
}

// An InputError part by part, so that the process that leads throws the same: what the user can mend is no
// fault of the program.
std::string packed_error(const InputError& error) {
  std::string text;
  for (const std::string& part : {error.where.file, std::to_string(error.where.line), error.where.key,
                                  error.found, error.expected, error.mend})
    text += std::to_string(part.size()) + ":" + part;
  return text;
}

InputError unpacked_error(const std::string& text) {
  std::vector<std::string> parts;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t colon = text.find(':', at);
    const std::size_t size = std::stoul(text.substr(at, colon - at));
    parts.push_back(text.substr(colon + 1, size));
    at = colon + 1 + size;
  }
  parts.resize(6);
  return InputError({parts[0], std::atoi(parts[1].c_str()), parts[2]}, parts[3], parts[4], parts[5]);
}

// Waits without burning a core that a run could use.
MPI_Status wait_for_message(int from) {
  MPI_Status status;
  for (int there = 0;;) {
    MPI_Iprobe(from, MPI_ANY_TAG, MPI_COMM_WORLD, &there, &status);
    if (there) return status;
    std::this_thread::sleep_for(nap);
  }
}

std::pair<int, std::string> take_text(const MPI_Status& status) {
  int size = 0;
  MPI_Get_count(&status, MPI_BYTE, &size);
  std::string packed(static_cast<std::size_t>(size), '\0');
  MPI_Recv(packed.data(), size, MPI_BYTE, status.MPI_SOURCE, status.MPI_TAG, MPI_COMM_WORLD,
           MPI_STATUS_IGNORE);
  int number = 0;
  std::copy_n(packed.data(), sizeof number, reinterpret_cast<char*>(&number));
  return {number, packed.substr(sizeof number)};
}

void send_number(int to, int number) {
  MPI_Send(&number, 1, MPI_INT, to, job, MPI_COMM_WORLD);
}

// Every result to every process, in the order of the jobs.
void share_results(std::vector<std::string>& results) {
  for (std::string& text : results) {
    int size = static_cast<int>(text.size());
    MPI_Bcast(&size, 1, MPI_INT, 0, MPI_COMM_WORLD);
    text.resize(static_cast<std::size_t>(size));
    MPI_Bcast(text.data(), size, MPI_BYTE, 0, MPI_COMM_WORLD);
  }
}

// Jobs of the process that leads, done by threads of its own while its first thread serves the others.
class OwnThreads {
public:
  OwnThreads(const study::Jobs& jobs, std::deque<int>& open, std::mutex& guard, int threads,
             study::ProgressBoard& board)
      : jobs_(jobs), open_(open), guard_(guard), board_(board) {
    for (int k = 0; k < threads; ++k) crew_.emplace_back([this] { work(); });
  }
  ~OwnThreads() { join(); }
  OwnThreads(const OwnThreads&) = delete;
  OwnThreads& operator=(const OwnThreads&) = delete;
  void join() {
    for (std::thread& one : crew_)
      if (one.joinable()) one.join();
  }
  // What has been done since the last call.
  std::vector<std::pair<int, std::string>> take() {
    const std::lock_guard<std::mutex> lock(guard_);
    return std::exchange(done_, {});
  }
  std::exception_ptr problem() {
    const std::lock_guard<std::mutex> lock(guard_);
    return problem_;
  }

private:
  void work() {
    for (;;) {
      int number = 0;
      {
        const std::lock_guard<std::mutex> lock(guard_);
        if (open_.empty() || problem_) return;
        number = open_.front();
        open_.pop_front();
      }
      try {
        std::string text =
            jobs_.run(number, [&](double share) { board_.update(number, std::min(share, 1.0)); });
        const std::lock_guard<std::mutex> lock(guard_);
        done_.emplace_back(number, std::move(text));
      } catch (...) {
        const std::lock_guard<std::mutex> lock(guard_);
        if (!problem_) problem_ = std::current_exception();
      }
    }
  }
  const study::Jobs& jobs_;
  std::deque<int>& open_;
  std::mutex& guard_;
  study::ProgressBoard& board_;
  std::vector<std::pair<int, std::string>> done_;
  std::exception_ptr problem_;
  std::vector<std::thread> crew_;
};

class RankExecutor final : public study::Executor {
public:
  RankExecutor(const Ranks& ranks, int threads) : ranks_(ranks), threads_(std::max(1, threads)) {}
  int width() const override { return threads_ + ranks_.size() - 1; }
  bool leads() const override { return ranks_.leads(); }
  void run(const study::Jobs& jobs) override { ranks_.leads() ? lead(jobs) : serve(jobs); }

private:
  void lead(const study::Jobs& jobs) {
    std::vector<std::string> results(static_cast<std::size_t>(jobs.count));
    std::deque<int> open;
    study::ProgressBoard board(std::max(1, jobs.count), jobs.progress);
    int missing = 0;
    for (int k = 0; k < jobs.count; ++k) {
      std::optional<std::string> known = jobs.known ? jobs.known(k) : std::nullopt;
      if (!known) {
        open.push_back(k);
        ++missing;
        continue;
      }
      results[k] = std::move(*known);
      if (jobs.sink) jobs.sink(k, results[k]);
    }
    std::mutex guard; // of open and of what the own threads have done
    std::exception_ptr problem;
    int serving = ranks_.size() - 1;
    {
      OwnThreads own(jobs, open, guard, threads_, board);
      const auto accept = [&](int number, std::string text) {
        results[number] = std::move(text);
        --missing;
        if (jobs.sink) jobs.sink(number, results[number]);
        board.update(number, 1);
      };
      // Until all is there, or something went wrong; then until all others have been told.
      while ((missing > 0 && !problem) || serving > 0) {
        try {
          for (auto& [number, text] : own.take())
            if (!problem) accept(number, std::move(text));
          if (!problem) problem = own.problem();
          MPI_Status status;
          int there = 0;
          MPI_Iprobe(MPI_ANY_SOURCE, MPI_ANY_TAG, MPI_COMM_WORLD, &there, &status);
          if (!there) {
            std::this_thread::sleep_for(nap);
            continue;
          }
          auto [number, text] = take_text(status);
          if (status.MPI_TAG == failure && !problem)
            problem = std::make_exception_ptr(std::runtime_error(text));
          if (status.MPI_TAG == bad_input && !problem)
            problem = std::make_exception_ptr(unpacked_error(text));
          answer(status.MPI_SOURCE, problem != nullptr, open, guard, serving);
          if (status.MPI_TAG == result && !problem) accept(number, std::move(text));
        } catch (...) {
          problem = std::current_exception();
        }
        if (problem) {
          const std::lock_guard<std::mutex> lock(guard);
          open.clear();
        }
      }
      own.join();
    }
    if (problem) std::rethrow_exception(problem);
    share_results(results);
  }

  // The next job for a process that is free, or word that there is none.
  static void answer(int to, bool failed, std::deque<int>& open, std::mutex& guard, int& serving) {
    int number = failed ? stop : no_more;
    {
      const std::lock_guard<std::mutex> lock(guard);
      if (!failed && !open.empty()) {
        number = open.front();
        open.pop_front();
      }
    }
    send_number(to, number);
    if (number < 0) --serving;
  }

  void serve(const study::Jobs& jobs) {
    send_text(0, ready, 0, "");
    for (;;) {
      wait_for_message(0);
      int number = 0;
      MPI_Recv(&number, 1, MPI_INT, 0, job, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
      if (number == stop) throw study::Stopped{};
      if (number == no_more) break;
      try {
        send_text(0, result, number, jobs.run(number, [](double) {}));
      } catch (const InputError& problem) {
        send_text(0, bad_input, number, packed_error(problem));
      } catch (const std::exception& problem) {
        send_text(0, failure, number, problem.what());
      }
    }
    std::vector<std::string> results(static_cast<std::size_t>(jobs.count));
    share_results(results);
    for (int k = 0; k < jobs.count; ++k)
      if (jobs.sink) jobs.sink(k, results[k]);
  }

  const Ranks& ranks_;
  int threads_;
};
} // namespace

std::unique_ptr<study::Executor> make_executor(const Ranks& ranks, int threads) {
  if (ranks.size() == 1) return std::make_unique<study::ThreadExecutor>(threads);
  return std::make_unique<RankExecutor>(ranks, threads);
}

#else

std::unique_ptr<study::Executor> make_executor(const Ranks&, int threads) {
  return std::make_unique<study::ThreadExecutor>(threads);
}

#endif

} // namespace lowspot::ranks
