// Water on the ground: local-inertial flow on faces (Bates et al. 2010; de Almeida et al. 2012) with implicit
// friction, and level pools once films have drained.
#pragma once
#include <memory>
#include <span>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>

namespace lowspot::surface {

// An open face passes normal flow at the local slope; others are walls.
struct OpenFace {
  int cell = 0; // index in the grid
  int side = 0; // 0 west, 1 east, 2 south, 3 north
  // Unit vector out of the yard at right angles to its limit, where that lies aslant to the cells and the
  // face is part of its stairs: it then passes what the length of limit passes that it stands for. Zeros: the
  // way the face looks.
  double out_x = 0, out_y = 0;
};

// Faces crossed by a line: what crosses it is the sum of what crosses them, each times its weight.
struct FaceSet {
  std::vector<int> x_faces, y_faces; // indices as in Grid
  // Positive where flow to the east or north counts as such; of size 1 where the whole face counts.
  std::vector<double> x_weights, y_weights;
};

// The ground that water flows over.
struct Terrain {
  Grid grid;                        // of square cells
  Mask active;                      // 1: part of the yard
  Field elevation;                  // m
  Field manning_n;                  // sheet flow
  Field manning_n_deep;             // deeper than twice the vegetation
  Field vegetation_height;          // m; 0: manning_n at every depth
  Field depression_storage;         // m of depth that cannot flow
  Field crest_x, crest_y;           // m elevation, minus infinity: none
  std::vector<OpenFace> open_faces; // where water leaves the yard
  std::vector<FaceSet> lines;       // over which what crosses is counted
};

// How water is moved.
enum class Method {
  dynamic, // local-inertial flow, the reference
  routed   // downhill routing between level pools: see routed.hpp
};

// How a run is made.
struct Options {
  Method method = Method::dynamic; // of moving water
  double courant = 0.7;            // of the clamped celerity
  double foresight = 0.1;          // of its last change that a level is carried on by before it pushes
  double celerity_cap = 0.17;      // m/s, raised where water is fast, rises fast or is steep; infinity: none
  double celerity_floor = 1.15;    // times the kinematic celerity 5V/3
  bool allow_rest = true;          // level pools once films have drained
  double routing_step = 20;        // s, of the routed method while flow changes quickly, else longer
  int most_together = 8; // steps of one length made in one sweep; 1: single steps, each of its own length
  // Of these, one in so many finds the depth and the roughness of the way anew; the others follow them.
  int full_every = 8;
  // Threads for the steps of the dynamic method; the answer is the same to the last bit whatever their
  // number.
  int threads = 1;
  double updates_a_thread = 50000; // of cells in a group of steps: with less to do a thread is not woken
};

// What a run has done so far.
struct Counters {
  long steps = 0;          // hydraulic steps
  double cell_updates = 0; // cells times steps, of those with moving water
  double resting = 0;      // s of simulated time in level pools
  // Groups of steps that were made again with shorter ones, since the water had become much faster.
  long groups_again = 0;
  long followed = 0; // times that the sources were moved on: after one hydraulic step or several
};

struct Workspace;
struct Tiles;
class Tags;
class RoutedFlow;
class Undo;
class Crew;
struct Water;
struct StepNumbers;
struct PassedWater;

// The water on a ground, from one moment to the next.
class Flow {
public:
  // Throws NumericsError when the terrain does not fit its grid or an option is out of range.
  explicit Flow(Terrain terrain, Options options = {});
  Flow(const Flow& other);
  Flow& operator=(const Flow& other);
  Flow(Flow&&) noexcept;
  Flow& operator=(Flow&&) noexcept;
  ~Flow();

  // Moves water for `dt` seconds. supply [m/s, >= 0]: water arriving on each cell at a constant rate.
  // sink_capacity [m/s, >= 0]: the most each cell can give away (to soil, trench, air); what was really
  // taken [m] is returned in `taken` (overwritten). All have one entry a cell; inactive cells are ignored.
  void advance(double dt, std::span<const double> supply, std::span<const double> sink_capacity,
               std::span<double> taken);

  // Adds (or, negative, removes) water at once [m]; the depth never falls below zero: returns what was moved.
  // tag: its source, when sources are followed.
  double give(int cell, double depth, int tag = 0);

  // Follows `count` sources from now on: see Tags. Water that is there already is of source `present`. Before
  // each advance() tags()->set_supply() must say where the supply comes from. Costs nothing when not called.
  // The dynamic method only: throws NumericsError for the routed one.
  Tags& follow_sources(int count, int present = 0);
  Tags* tags(); // null when sources are not followed
  const Tags* tags() const;

  // As given at the start.
  const Terrain& terrain() const;
  std::span<const double> depth() const; // m
  // Discharge per width on faces [m2/s], positive to the east and the north. Like all that does not change
  // the water it may be asked for by several threads at once.
  std::span<const double> discharge_x() const;
  std::span<const double> discharge_y() const;
  // Volume that left through each open face during the last advance [m3].
  std::span<const double> left_through() const;
  // Volume that crossed each line during the last advance [m3], signed.
  std::span<const double> crossed() const;
  double volume() const; // m3 on active cells
  bool at_rest() const;  // pools level, films drained: long steps are safe and cheap
  const Counters& counters() const;

private:
  void take_sources(std::span<const double> supply, std::span<const double> sink_capacity, std::size_t taken);
  void run(double dt, std::span<double> taken);
  bool settled();
  void follow();
  double run_window(double remaining, std::span<double> taken);
  void run_routed(double dt, std::span<double> taken);
  Terrain terrain_;
  Options options_;
  std::vector<double> depth_, left_, crossed_;
  std::vector<double> qx_, qy_;       // of the dynamic method
  std::vector<double> crossed_faces_; // m3, of each of Workspace::crossings
  Counters counters_;
  bool at_rest_ = false;
  int stretches_ = 0;      // of steps since the last look at films
  int together_ = 1;       // steps of one length made at once
  double most_supply_ = 0; // m/s, of any cell in the last advance
  std::unique_ptr<Workspace> work_;
  std::unique_ptr<Tiles> tiles_;
  std::unique_ptr<Undo> undo_;
  std::unique_ptr<Crew> crew_; // none: one thread
  std::unique_ptr<Tags> tags_;
  std::unique_ptr<PassedWater> passed_; // since sources were followed last, where they are
  std::unique_ptr<RoutedFlow> routed_;  // none: dynamic
};

} // namespace lowspot::surface
