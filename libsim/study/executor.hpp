// Hands out the jobs of a study, whoever does them: threads here, or other processes. A job turns a number
// into a short text, which is all that has to travel.
#pragma once
#include <functional>
#include <optional>
#include <string>

#include <lowspot/study/progress_board.hpp>

namespace lowspot::study {

// A number of jobs, numbered from 0.
struct Jobs {
  int count = 0; // how many
  // The result of one job: a function of its number alone, called from any thread of any process. It may tell
  // the share of itself that is done, 0..1, and must let what report() throws pass.
  std::function<std::string(int index, const std::function<void(double share)>& report)> run;
  // Takes each result as it comes in, in the order in which jobs end, never two at once. What is made of the
  // results must not depend on that order.
  std::function<void(int index, const std::string& result)> sink;
  // Called from any thread with the share of all work that is done, 0..1. Return false to stop early: run()
  // then throws Stopped.
  std::function<bool(double share)> progress;
  // A result that is there already, of a study that was interrupted: the job is not run. Asked once a job,
  // before any is run, and only of the process that leads. May be empty.
  std::function<std::optional<std::string>(int index)> known;
};

// Whoever does jobs.
class Executor {
public:
  virtual ~Executor() = default;
  // Returns when every result has been given to the sink. What a job throws is thrown here, once the jobs
  // under way have ended.
  virtual void run(const Jobs& jobs) = 0;
  // How many jobs go side by side.
  virtual int width() const = 0;
  // Whether this process tells the user and writes files. With several processes each gets every result, so
  // that all come to the same next step; only one leads.
  virtual bool leads() const { return true; }
};

// Does jobs in threads of this process.
class ThreadExecutor final : public Executor {
public:
  explicit ThreadExecutor(int threads = 0); // 0: one a core
  void run(const Jobs& jobs) override;
  int width() const override { return threads_; }

private:
  int threads_;
};

} // namespace lowspot::study
