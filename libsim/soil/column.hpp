// Topsoil columns over a tight layer: infiltration, moisture, plant uptake. Plain arrays, one entry a cell.
#pragma once
#include <span>
#include <vector>

#include <lowspot/base/field.hpp>

namespace lowspot::soil {

// One kind of soil, SI.
struct Parameters {
  double depth = 0;                 // topsoil thickness D [m]
  double porosity = 0;              // water content at saturation
  double field_capacity = 0;        // water content when gravity has drained it [m3/m3]
  double wilting_point = 0;         // water content at which plants wilt [m3/m3]
  double residual = 0;              // water content that does not move [m3/m3]
  double conductivity = 0;          // m/s
  double wetting_front_suction = 0; // m
  double pore_size_index = 0;       // Brooks-Corey lambda
  double drainable_porosity = 0;    // share left free when the perched table falls
  // A crust at the ground, in series with the soil; thickness 0: none.
  double crust_conductivity = 0; // m/s
  double crust_thickness = 0;    // m
};

// Moisture above the perched table. The unsaturated thickness of a column is T = D - H, with H the saturated
// thickness (kept by the perched zone and handed in). Water above the table, per plan area [m]:
//   background * T + front + second_front - root_deficit
// background: uniform moisture of the zone below any wetting front.
// front: water added to the background by the wetting front of this storm, at content front_content,
//   so that it reaches down Z = front / (front_content - background) <= T. second_front lies in the
//   first one (a later burst): it reaches down Z2 = second_front / (second_content - front_content) <= Z.
// root_deficit: what plants have drawn from the root zone below the background.
struct Columns {
  std::vector<Parameters> kinds; // of soil
  std::vector<int> kind;         // per cell
  Mask active;                   // 1: the cell has a column
  Field depth; // thickness of each column [m]: that of its kind, or what a slab leaves of it
  Field open; // share of the cell's ground through which water gets in, 0..1; the column holds it over all of
              // the cell
  Field background;                   // m3/m3
  Field front, front_content;         // m, m3/m3
  Field second_front, second_content; // m, m3/m3
  Field root_deficit;                 // m
  Field root_depth;                   // m, 0: no roots
  Mask bare; // 1: no roots; root_depth is then that of the layer which evaporation can dry
  // Whether the depth of water on the ground (that at the start of a step) adds to the suction in the law.
  bool ponded_head = true;
};

// Columns of uniform initial moisture (one value a kind), without fronts, deficit or roots. Throws InputError
// for figures that no soil has (porosity outside (0, 1], contents out of order, depth or pore-size index not
// positive, endless ones) and for a cell that is of no kind.
Columns make_columns(std::vector<Parameters> kinds, std::vector<int> kind_of_cell, Mask active,
                     const std::vector<double>& initial_moisture);

// What else happens to the columns while they take in water.
struct Meanwhile {
  std::span<const double>
      leaving;            // m/s that a full column loses below: as much more can go in. Empty: nothing
  bool dry_ground = true; // whether ground with no water on it and none arriving is asked, too
  // 1: the column has been full since water came to stand on it. Whatever has left it sideways, no air has
  // come in: no front runs, and what goes in is Darcy's flow. Empty: none is
  std::span<const std::uint8_t> sealed = {};
  std::span<const double> sinking = {}; // m/s that leaves a sealed column, but not sideways. Empty: nothing
};

// The most that each column can take in over dt, as a mean rate [m/s]: Green-Ampt with ponded head (Green and
// Ampt 1911; Mein and Larson 1973), and never more than the free pore space. saturated: H [m]. ponded: depth
// on the ground [m]. supply: rate of water arriving [m/s], for the time of ponding inside the step. Where the
// supply does not pond within dt the capacity is no less than the supply, storage permitting. 0 in inactive
// cells. Where only a share of the ground is open the rate is per area of that share, to which all comes that
// stands on the cell and arrives there; under it the front is as much deeper as the share is smaller, so that
// a cell half open takes half of what an open one does.
void infiltration_capacity(const Columns& columns, std::span<const double> saturated,
                           std::span<const double> ponded, std::span<const double> supply, double dt,
                           std::span<double> capacity, const Meanwhile& meanwhile = {});

// Puts `water` [m a cell] into the columns at their tops. A supply of at least the saturated conductivity,
// where the ground is open, is a burst and drives a saturated front; less than that, or nothing, lets the
// fronts redistribute over dt. There are at most two fronts: when a third burst comes, the first two become
// one. Water that reaches the perched table is returned in recharge [m] (overwritten), to be handed to
// change_saturated(). In a sealed column (see Meanwhile) it gets there at once.
void infiltrate(Columns& columns, std::span<const double> saturated, std::span<const double> water, double dt,
                std::span<double> recharge, std::span<const std::uint8_t> sealed = {});

// Gravity drainage of the background above field capacity over dt, K(theta) by Brooks and Corey (1964): adds
// to recharge [m]. Exact for a uniform zone at any dt; what fronts hold stays in them. Sealed columns (see
// Meanwhile) do not drain: no air comes in.
void drain_by_gravity(Columns& columns, std::span<const double> saturated, double dt,
                      std::span<double> recharge, std::span<const std::uint8_t> sealed = {});

// Applies a net volume of water per plan area [m] to the saturated zones, moving the table and exchanging
// moisture with the zone above so that nothing is lost: a falling table leaves porosity - drainable_porosity
// behind, a rising one takes in the moisture it meets. Water that finds the column full comes back in
// overflow [m]. Returns in `short_of` what could not be taken out because the zone ran empty (>= 0) [m].
void change_saturated(Columns& columns, std::span<double> saturated, std::span<const double> net_water,
                      std::span<double> overflow, std::span<double> short_of);

// Plant uptake and evaporation over dt: FAO-56 (Allen et al. 1998) with stress. demand: crop_coefficient *
// reference evapotranspiration [m]. depletion_fraction: p, per cell. Taken from the root zone, or from the
// saturated zone where it stands in the roots. Returns what was taken above the table in from_soil [m] and
// what is to be taken from the saturated zone in from_saturated [m] (not yet applied). Less is taken as the
// air in the root zone falls from 10 % of the soil to none. Bare columns evaporate from their upper layer in
// two stages (the same, chapter 7), what of that layer lies under the open share: demand is then what wet
// bare ground loses, depletion_fraction is not used, the layer dries to half the wilting point, and wetness
// does not hold it back. With dt > 0 [s] what stressed roots lack also rises from a table below them, as fast
// as capillary_rise() permits; dt = 0 leaves that out.
void take_up(Columns& columns, std::span<const double> saturated, std::span<const double> demand,
             std::span<const double> depletion_fraction, std::span<double> from_soil,
             std::span<double> from_saturated, double dt = 0);

// Porosity still to be filled when the table rises [m3/m3], and left free when it falls: for the perched
// solver. Neither is below smallest_fillable; a full column shows the falling value in both.
inline constexpr double smallest_fillable = 0.005;
void fillable_porosity(const Columns& columns, std::span<const double> saturated, std::span<double> rising,
                       std::span<double> falling);

// Water per plan area [m] above the table (T part) and in the saturated zone (porosity * H).
double water_above(const Columns& columns, std::size_t cell, double saturated);
double water_saturated(const Columns& columns, std::size_t cell, double saturated);
// Root-zone depletion below field capacity [m] (0 when wetter), and available water capacity of the root zone
// [m]; of bare columns per area of their open ground.
double depletion(const Columns& columns, std::size_t cell, double saturated);
double available_capacity(const Columns& columns, std::size_t cell);
// Air-filled share of the root zone [m3/m3].
double air_filled(const Columns& columns, std::size_t cell, double saturated);

} // namespace lowspot::soil
