// What runs off a cover in steady rain.
#pragma once
#include <lowspot/site/site.hpp>

namespace lowspot::study {

// How wet the soil is.
enum class Wetness {
  as_it_starts, // as the site file says
  wet,          // water perched on the tight layer: at least 3 in, or as much as the topsoil is thick
};

// What the soil has taken in, of steady rain on dry ground, after `time` [s] at `intensity` [m/s]: the law of
// the soil layer (Green and Ampt 1911; Mein and Larson 1973) until the topsoil is full, then no more than
// leaks through the tight layer (Darcy 1856). The likely figures of the soil; no ponded head.
double soil_intake(const site::Soil& soil, Wetness wetness, double intensity, double time);

// Depth that runs off [m] after `rain` [m] of steady rain at `intensity` [m/s]: what is left by leaves
// (interception), soil and the small hollows of the cover (depression storage). `under_pool`: where water
// stands when the low spot is full; there small hollows hold nothing back.
double runoff_depth(const site::Area& cover, const site::Soil& soil, Wetness wetness, double intensity,
                    double rain, bool under_pool = false);

} // namespace lowspot::study
