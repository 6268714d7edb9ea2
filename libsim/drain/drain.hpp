// The drain at work: cap, fabric, stone, slots, pipe and outlet, dry to surcharged, in one implicit step.
#pragma once
#include <functional>
#include <limits>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include <lowspot/drain/layout.hpp>
#include <lowspot/drain/mouth.hpp>

namespace lowspot::drain {

// A piece of a run, about Layout::station_spacing long. All stations of all runs in one array, run by run,
// head to foot.
struct Station {
  int run = 0;              // index in Layout::runs
  Point at;                 // middle of the piece [m]
  double distance = 0;      // of the middle from the head of the run [m]
  double length = 0;        // m
  double invert = 0;        // m
  double trench_bottom = 0; // elevation [m]; the invert where there is no trench
  double ground = 0;        // m
  double cap_bottom = 0;    // top of the stone [m]
  double trench_width = 0;  // 0 without a trench
  double open = 1;          // share of the trench's top that the ground gives water to, see lay_open()
  double own = 1; // share of its trench's plan that no pit and no other trench takes, see own_share()
};

// Plan of a station's own stone [m2].
inline double plan_of(const Station& station) {
  return station.own * station.trench_width * station.length;
}

// Offered to the drain for one step; one entry a station.
struct Inflows {
  std::span<const double> through_cap; // m3/s from the ground above, already limited by cap_capacity()
  std::span<const double> from_soil;   // m3/s from the perched zone (negative: the soil takes)
  // m3/s straight into the pipe, which is then open to the ground there; the flow need not give it its speed.
  // A yard has none.
  std::span<const double> into_pipe;
  std::span<const double> through_mouth{}; // m3/s from the ground, one a mouth, within mouth_capacity()
  std::span<const double> into_tap{};      // m3/s from downspouts, one a tap
  // m of the wall's height that water from the soil passes, for what fabric holds back; empty or 0: found
  // from that water, as if fabric alone held it.
  std::span<const double> soil_wall{};
  // m3/s that pass that height, where the soil gives on one side and takes on the other; empty: from_soil.
  std::span<const double> soil_gives{};
  // m3/s that would have come through the cap had all of it found as much as there was where its water came
  // in; empty: through_cap.
  std::span<const double> cap_found{};
};

// What happened in one step.
struct Outcome {
  std::vector<double> to_surface;    // m3 per station that rose out through the cap or a cleanout
  std::vector<double> outlet_volume; // m3 per outlet
  std::vector<double> from_mouth;    // m3 per mouth that came out onto the ground
  double to_depth = 0;               // m3 lost through trench bottoms and soaked away from chambers
};

// The member of the chain that limits a run at this moment.
enum class Limit { nothing, cap, fabric, stone, slots, pipe, outlet };
std::string limit_name(Limit limit);

// Head lost in each member of the chain [m], at the worst station of a run.
struct HeadLosses {
  double cap = 0;    // from water standing on the ground down to the stone
  double fabric = 0; // from the soil's face into the stone
  double stone = 0;  // along the stone, beyond the fall of its bottom
  double slots = 0;  // from the stone into the pipe
  double pipe = 0;   // along the pipe, beyond what its own fall gives
  double outlet = 0; // held at the foot above what a free end, a well or a pump would hold
  // Water stands on the trench, the pipe is full, the stone is half full, or fabric holds back what the soil
  // gives.
  bool under_stress = false;
};

// One run at this moment.
struct RunState {
  double foot_depth = 0;        // water in the pipe at its foot [m]
  double foot_flow = 0;         // m3/s
  double volume_out = 0;        // past its foot since the start [m3]
  double stored = 0;            // stone and pipe [m3]
  double highest_level = 0;     // of stone and grade line anywhere along it since the start [m]
  bool surcharged = false;      // pipe full at some station
  Limit limit = Limit::nothing; // what limits it now
  HeadLosses losses;            // now
};

// A drain with the water in it.
class Drain {
public:
  // ground_at: elevation of the ground [m] at a point. Throws InputError when problems(layout) finds any.
  Drain(const Layout& layout, const std::function<double(Point)>& ground_at);
  ~Drain();
  Drain(Drain&&) noexcept;
  Drain& operator=(Drain&&) noexcept;

  // As given; the stations that it was cut into.
  const Layout& layout() const;
  const std::vector<Station>& stations() const;

  // The most that can enter through the cap at each station over the next dt [m3/s], given the water depth on
  // the ground above it [m]. It is remembered until the next advance(): where less comes than was offered
  // last, the ground has no more. Where the stone might fill, the network is moved ahead on trial; where that
  // does not converge, no more is offered than there is room for beyond what came last.
  void cap_capacity(std::span<const double> ponded, double dt, std::span<double> capacity) const;
  // The most that the soil may take from each station over the next dt [m3].
  void available_for_soil(double dt, std::span<double> available) const;
  // Openings to the ground: of fittings, then outlets, then taps, each list in the order of the layout.
  int mouths() const;
  const Mouth& mouth(int mouth) const;
  int mouth_of_tap(int tap) const;
  // The most that can enter through a mouth, or a part of one, over the next dt [m3/s], given the water on
  // the ground there; one entry an entry of `water`, zero for a mouth that takes nothing in. Where a chamber
  // might fill, the network is moved ahead on trial, as for caps; caps then answer, too, if they were asked
  // before for the same step.
  void mouth_capacity(std::span<const MouthWater> water, double dt, std::span<double> capacity) const;
  // What part of each station's trench lies under ground that gives it water: the rest is under a building.
  // ground: mean elevation of that ground [m], from which `ponded` is reckoned, in place of the one at the
  // station's middle (with waves in the ground still water would otherwise not be level); empty or not a
  // number: stays.
  void lay_open(std::span<const double> share, std::span<const double> ground = {});
  // The level that water in an outlet must pass with nothing standing outside: its invert, or the rim of a
  // lid where that is higher [m].
  double outlet_rim(int outlet) const;
  // Advances by dt, in as many steps as it needs. ponded: as above, for water that rises out; on_mouths: the
  // same over each mouth (empty: none); at_outlets: level of the water that stands outside each outlet and
  // holds it back [m], minus infinity for none (empty: none anywhere).
  // Mass is exact: stored() changes by what came in less what Outcome lists.
  Outcome advance(double dt, const Inflows& inflows, std::span<const double> ponded,
                  std::span<const double> on_mouths = {}, std::span<const double> at_outlets = {});

  std::span<const double> stone_level() const; // elevation of the water in the stone [m]
  std::span<const double> pipe_level() const;  // grade line in the pipe [m]
  std::span<const double> pipe_flow() const;   // m3/s leaving each station downstream
  double stored() const;                       // m3
  // At the end of the last step.
  RunState run_state(int run) const;
  double fitting_level(int fitting) const; // grade line [m]
  // What a fitting with an opening to the ground (an inlet, a channel) passes on [m3/s]; 0 for others.
  double fitting_flow(int fitting) const;
  double fitting_volume(int fitting) const; // of that since the start [m3]
  double outlet_level(int outlet) const;    // grade line, or water in a dry well or basin [m]
  double outlet_stored(int outlet) const;   // m3 in a dry well or basin
  // Manning, full, at the least fall along the run [m3/s] (Manning 1891). Where a piece of it rises or lies
  // level (a belly), what goes through under pressure with the grade line no higher than the crown at its
  // head: the least mean fall from the head to any point counts. 0 where that is none: nothing goes through
  // until water stands over the crown of its head.
  double full_flow_capacity(int run) const;
  double outlet_flow(int outlet) const; // m3/s at the end of the last step
  // Conductance of fabric and stone face per metre of trench for full wetted height of soil D [m2/s per m,
  // both sides]. soil_top: elevation of the ground of that soil [m]; not a number: that of the station.
  double wall_conductance(int station, double soil_conductivity, double soil_depth, double cell,
                          double of_fabric = 1,
                          double soil_top = std::numeric_limits<double>::quiet_NaN()) const;

private:
  struct State;
  std::unique_ptr<State> state_;
};

} // namespace lowspot::drain
