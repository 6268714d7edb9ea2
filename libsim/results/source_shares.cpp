#include <lowspot/results/source_shares.hpp>

#include <algorithm>

namespace lowspot::results {
namespace {

// Smaller low spots are puddles of their own that nobody would name.
constexpr std::size_t most_low_spots = 12;
constexpr double least_part = 0.5; // of a cell that belongs to an area, to count what runs into it

// The same for one area: of one that is narrower than the cells and covers none by half, half of what it
// covers of the fullest, so that what runs through it is counted on those.
double part_to_count(const terrain::Coverage& cover, const Mask& active) {
  double most = 0;
  for (std::size_t k = 0; k < cover.cells.size(); ++k)
    if (active[cover.cells[k]]) most = std::max(most, cover.fractions[k]);
  return most < least_part ? most / 2 : least_part;
}

const char* const side_names[4] = {"west", "east", "south", "north"};

struct Place {
  std::vector<int> cells;
  std::vector<double> areas; // m2 of the place on each cell
  Mask member;               // one a cell: counts for arrivals
  int gate = -1;
};

// The faces between cells of a place and the others, inward positive.
surface::FaceSet limits_of(const Grid& grid, const Mask& member) {
  surface::FaceSet faces;
  const auto is_in = [&](int i, int j) { return grid.inside(i, j) && member[grid.index(i, j)] != 0; };
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      if (!is_in(i, j)) continue;
      const auto x = [&](int face, int sign) {
        faces.x_faces.push_back(static_cast<int>(grid.x_face(face, j)));
        faces.x_weights.push_back(sign);
      };
      const auto y = [&](int face, int sign) {
        faces.y_faces.push_back(static_cast<int>(grid.y_face(i, face)));
        faces.y_weights.push_back(sign);
      };
      if (!is_in(i - 1, j)) x(i, 1);
      if (!is_in(i + 1, j)) x(i + 1, -1);
      if (!is_in(i, j - 1)) y(j, 1);
      if (!is_in(i, j + 1)) y(j + 1, -1);
    }
  return faces;
}

// Open faces of one side of the yard, outward positive.
surface::FaceSet side_faces(const terrain::Ground& ground, int side) {
  surface::FaceSet faces;
  for (const terrain::EdgeFace& edge : ground.edges) {
    if (!edge.open || static_cast<int>(edge.compass) != side) continue;
    const int i = ground.grid.column(edge.cell), j = ground.grid.row(edge.cell);
    const bool far = edge.side == terrain::Side::east || edge.side == terrain::Side::north;
    if (edge.side == terrain::Side::west || edge.side == terrain::Side::east) {
      faces.x_faces.push_back(static_cast<int>(ground.grid.x_face(i + far, j)));
      faces.x_weights.push_back(far ? 1 : -1);
    } else {
      faces.y_faces.push_back(static_cast<int>(ground.grid.y_face(i, j + far)));
      faces.y_weights.push_back(far ? 1 : -1);
    }
  }
  return faces;
}

} // namespace

struct ShareRecorder::State {
  SourceShares record;
  std::vector<Place> places;
  std::vector<std::vector<int>> places_of;   // one list a cell: the places that count what arrives there
  std::vector<std::vector<double>> arriving; // m3/s on each place, of each source
  long supplies_seen = -1;                   // supply that this is of, as Tags counts them
  Field deepest;                             // m
  std::vector<int> risen;                    // scratch: cells deeper than ever before
  bool raining = true;

  int count() const { return static_cast<int>(record.sources.size()); }

  void add(std::string name, const char* kind, Place place) {
    PlaceShares shares;
    shares.name = std::move(name);
    shares.kind = kind;
    shares.at_peak.assign(count(), 0.0);
    shares.at_rain_end = shares.arrived = shares.left = shares.at_peak;
    shares.over_time.resize(count());
    record.places.push_back(std::move(shares));
    places.push_back(std::move(place));
  }

  double volume(const Place& place, const yard::Yard& yard) const {
    const std::span<const double> depth = yard.depth();
    double sum = 0;
    for (std::size_t k = 0; k < place.cells.size(); ++k) sum += depth[place.cells[k]] * place.areas[k];
    return sum;
  }
  // By source [m3].
  std::vector<double> composition(const Place& place, const yard::Yard& yard) const {
    std::vector<double> volumes(count(), 0.0);
    std::vector<std::span<const double>> shares;
    for (int tag = 0; tag < count(); ++tag) shares.push_back(yard.shares()->share(tag));
    const std::span<const double> depth = yard.depth();
    for (std::size_t k = 0; k < place.cells.size(); ++k) {
      const int cell = place.cells[k];
      const double held = depth[cell] * place.areas[k];
      if (!(held > 0)) continue;
      for (std::size_t tag = 0; tag < shares.size(); ++tag) volumes[tag] += shares[tag][cell] * held;
    }
    return volumes;
  }
};

ShareRecorder::ShareRecorder(yard::Yard& yard, const std::vector<terrain::LowSpot>& low_spots)
    : state_(std::make_unique<State>()) {
  if (!yard.shares()) return;
  State& state = *state_;
  const terrain::Ground& ground = yard.ground();
  const std::size_t cells = ground.grid.cells();
  for (const yard::Source& source : yard.sources())
    state.record.sources.push_back({source.name, yard::source_kind_name(source.kind)});
  const double cell_area = ground.grid.cell_area();
  for (std::size_t a = 0; a < ground.areas.size(); ++a) {
    Place place;
    place.member.assign(cells, 0);
    const terrain::Coverage& cover = ground.areas[a];
    const double least = part_to_count(cover, ground.active);
    for (std::size_t k = 0; k < cover.cells.size(); ++k) {
      if (!ground.active[cover.cells[k]]) continue;
      place.cells.push_back(cover.cells[k]);
      place.areas.push_back(cover.fractions[k] * cell_area);
      if (cover.fractions[k] >= least) place.member[cover.cells[k]] = 1;
    }
    state.add(yard.site().areas[a].name, "area", std::move(place));
  }
  for (std::size_t s = 0; s < std::min(low_spots.size(), most_low_spots); ++s) {
    Place place;
    place.cells = low_spots[s].cells;
    place.areas.assign(place.cells.size(), cell_area);
    place.member.assign(cells, 0);
    for (int cell : place.cells) place.member[cell] = 1;
    state.add("low spot " + std::to_string(low_spots[s].id), "low spot", std::move(place));
  }
  for (const site::Gauge& gauge : yard.site().gauges) {
    const int cell = static_cast<int>(cell_at(ground.grid, gauge.at.x, gauge.at.y));
    if (cell < 0 || !ground.active[cell]) continue;
    Place place{{cell}, {cell_area}, Mask(cells, 0), -1};
    place.member[cell] = 1;
    state.add(gauge.name, "gauge", std::move(place));
  }
  state.places_of.resize(cells);
  for (std::size_t p = 0; p < state.places.size(); ++p)
    for (std::size_t c = 0; c < cells; ++c)
      if (state.places[p].member[c]) state.places_of[c].push_back(static_cast<int>(p));
  std::vector<surface::Gate> gates;
  for (Place& place : state.places) {
    place.gate = static_cast<int>(gates.size());
    std::vector<int> inside;
    for (std::size_t c = 0; c < cells; ++c)
      if (place.member[c]) inside.push_back(static_cast<int>(c));
    gates.push_back({limits_of(ground.grid, place.member), std::move(inside)});
  }
  for (int side = 0; side < 4; ++side) {
    surface::FaceSet faces = side_faces(ground, side);
    if (faces.x_faces.empty() && faces.y_faces.empty()) continue;
    Place place;
    place.gate = static_cast<int>(gates.size());
    gates.push_back({std::move(faces), {}});
    state.add(side_names[side], "edge", std::move(place));
  }
  yard.watch(std::move(gates));
  state.record.when_deepest.assign(state.count(), std::vector<float>(cells, 0.0F));
  state.deepest.assign(cells, 0.0);
  state.arriving.assign(state.places.size(), std::vector<double>(state.count(), 0.0));
}
ShareRecorder::~ShareRecorder() = default;
ShareRecorder::ShareRecorder(ShareRecorder&&) noexcept = default;

void ShareRecorder::step(const yard::Yard& yard, double dt) {
  State& state = *state_;
  if (!yard.shares()) return;
  const double cell_area = yard.ground().grid.cell_area();
  if (state.supplies_seen != yard.shares()->supplies()) {
    state.supplies_seen = yard.shares()->supplies();
    for (std::vector<double>& rates : state.arriving) std::fill(rates.begin(), rates.end(), 0.0);
    for (const surface::TagSupply& entry : yard.arriving())
      for (const int place : state.places_of[entry.cell])
        state.arriving[place][entry.tag] += entry.rate * cell_area;
  }
  for (std::size_t p = 0; p < state.arriving.size(); ++p)
    for (int tag = 0; tag < state.count(); ++tag)
      state.record.places[p].arrived[tag] += state.arriving[p][tag] * dt;
  for (std::size_t p = 0; p < state.places.size(); ++p) {
    const Place& place = state.places[p];
    PlaceShares& shares = state.record.places[p];
    const double volume = state.volume(place, yard);
    if (volume <= shares.peak_volume) continue;
    shares.peak_volume = volume;
    shares.peak_time = yard.time();
    shares.at_peak = state.composition(place, yard);
  }
  if (state.raining && yard.time() >= yard.end_of_rain()) {
    state.raining = false;
    for (std::size_t p = 0; p < state.places.size(); ++p) {
      state.record.places[p].at_rain_end = state.composition(state.places[p], yard);
      state.record.places[p].rain_end_volume = state.volume(state.places[p], yard);
    }
  }
  state.risen.clear();
  const std::span<const double> depth = yard.depth();
  for (std::size_t c = 0; c < depth.size(); ++c) {
    if (depth[c] <= state.deepest[c]) continue;
    state.deepest[c] = depth[c];
    state.risen.push_back(static_cast<int>(c));
  }
  for (int tag = 0; tag < state.count(); ++tag) {
    const std::span<const double> share = yard.shares()->share(tag);
    std::vector<float>& kept = state.record.when_deepest[tag];
    for (const int c : state.risen) kept[c] = static_cast<float>(share[c]);
  }
}

void ShareRecorder::output(const yard::Yard& yard) {
  State& state = *state_;
  if (!yard.shares()) return;
  for (std::size_t p = 0; p < state.places.size(); ++p) {
    const std::vector<double> volumes = state.composition(state.places[p], yard);
    for (int tag = 0; tag < state.count(); ++tag)
      state.record.places[p].over_time[tag].push_back(volumes[tag]);
  }
}

SourceShares ShareRecorder::finish(const yard::Yard& yard) {
  State& state = *state_;
  if (!yard.shares()) return {};
  for (std::size_t p = 0; p < state.places.size(); ++p) {
    PlaceShares& shares = state.record.places[p];
    const int gate = state.places[p].gate;
    for (int tag = 0; tag < state.count(); ++tag) {
      const double with = yard.shares()->passed(gate, tag), against = yard.shares()->passed_back(gate, tag);
      if (shares.kind == "edge") {
        shares.left[tag] = with;
      } else {
        shares.arrived[tag] += with;
        shares.left[tag] = against;
      }
    }
  }
  return std::move(state.record);
}

} // namespace lowspot::results
