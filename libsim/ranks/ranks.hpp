// Several processes of this program working on one study, started by mpirun. Without MPI, or not started by
// it, there is one process, and it leads.
#pragma once

namespace lowspot::ranks {

// This process among those that work on the study, for as long as it lives.
class Ranks {
public:
  // Joins the processes where mpirun (or a batch system like it) started this one; otherwise does nothing.
  Ranks();
  ~Ranks();
  Ranks(const Ranks&) = delete;
  Ranks& operator=(const Ranks&) = delete;

  int rank() const { return rank_; }
  int size() const { return size_; }
  bool leads() const { return rank_ == 0; }
  // Ends the work together with the others; call once, last. A process that leads and has failed ends them at
  // once with its code, since they may wait for work; one that does not lead lets the other speak first.
  // Returns the code.
  int leave(int code, bool failed);

private:
  int rank_ = 0, size_ = 1;
  bool joined_ = false;
};

// Whether the program was built with MPI.
bool with_mpi();

} // namespace lowspot::ranks
