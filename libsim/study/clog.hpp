// What fines and roots do to the ways into a trench over the years.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>

namespace lowspot::study {

// What in a design's trenches can clog.
struct Cloggable {
  bool cap = false;                                        // a layer of its own over the stone
  bool open_stone = false;                                 // stone that comes up to the surface
  bool fabric = false;                                     // around the stone
  bool any() const { return cap || open_stone || fabric; } // something of it
};
// Over all trenches of the design; a pipe in backfill has none.
Cloggable what_can_clog(const site::Design& design);

// Each leaves `left` of what is taken in (0..1), in all trenches that have it.
void clog_cap(site::Design& design, double left);
void clog_fabric(site::Design& design, double left);
// Open stone does not become tighter by itself: fines settle between its top stones. It gets a skin of them
// that takes in `left` of what such a skin does when it is new.
void silt_up(site::Design& design, double left);
// What that skin takes in with no water standing on it [m/s].
double skin_intake(double left);

// All of it at once, `factor` times less open; the skin of fines takes in 1 / factor of what a new one does.
void clog_all(site::Design& design, double factor);
// "fabric and cap 10 times less open", "fabric 10 times less open and fines on the open stone that take in
// 1.42 in/hr": what clog_all() does to this design; empty where nothing can clog.
std::string clogged_words(const site::Design& design, double factor, const site::Site& site);

} // namespace lowspot::study
