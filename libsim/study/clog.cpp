#include <lowspot/study/clog.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::study {
namespace {

constexpr double film = 0.01;        // m of fines over open stone
constexpr double film_intake = 1e-4; // m/s through them when they are new, about that of fine sand

// A cap of its own over the stone; what lies open to the surface has none, whatever its figures say.
bool has_cap(const site::Run& run) {
  return run.has_trench && run.cap.depth > 0 && !run.cap.of_stone;
}

bool is_open(const site::Run& run) {
  return run.has_trench && !has_cap(run);
}

bool has_fabric(const site::Run& run) {
  return run.has_trench && run.fabric.permittivity > 0;
}

} // namespace

Cloggable what_can_clog(const site::Design& design) {
  Cloggable can;
  for (const site::Run& run : design.runs) {
    can.cap = can.cap || has_cap(run);
    can.open_stone = can.open_stone || is_open(run);
    can.fabric = can.fabric || has_fabric(run);
  }
  return can;
}

void clog_cap(site::Design& design, double left) {
  for (site::Run& run : design.runs)
    if (has_cap(run)) run.cap.conductivity *= left;
}

void clog_fabric(site::Design& design, double left) {
  for (site::Run& run : design.runs)
    if (has_fabric(run)) run.fabric.clogging /= left;
}

void silt_up(site::Design& design, double left) {
  for (site::Run& run : design.runs)
    if (is_open(run)) run.cap = {run.cap.name, skin_intake(left), film, false};
}

double skin_intake(double left) {
  return film_intake * left;
}

void clog_all(site::Design& design, double factor) {
  clog_cap(design, 1 / factor); // before the open stone gets a skin, which is a cap as well
  silt_up(design, 1 / factor);
  clog_fabric(design, 1 / factor);
}

std::string clogged_words(const site::Design& design, double factor, const site::Site& site) {
  const Cloggable can = what_can_clog(design);
  std::string text = can.fabric && can.cap ? "fabric and cap" : can.fabric ? "fabric" : can.cap ? "cap" : "";
  if (!text.empty()) text += " " + rounded(factor) + " times less open";
  if (!can.open_stone) return text;
  return text + (text.empty() ? "" : " and ") + "fines on the open stone that take in " +
         site::written(skin_intake(1 / factor), Dimension::speed, site);
}

} // namespace lowspot::study
