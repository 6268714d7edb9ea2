// The map of a diagnosis: low spots numbered by size, what sheds to them, where they spill, where they could
// drain to.
#pragma once
#include <filesystem>

#include <lowspot/report/map_panel.hpp>
#include <lowspot/report/paint.hpp>
#include <lowspot/study/diagnosis.hpp>

namespace lowspot::report {

// What the map is drawn from.
struct DiagnosisScene {
  const site::Site& site;            // with its outlines
  const study::Diagnosis& diagnosis; // what was found
  Units units;                       // of the site
};

Size diagnosis_map_size(const DiagnosisScene& scene); // points
// On a context of the size of the scene's view; as a PNG's bytes.
void draw_diagnosis_map(cairo_t* context, const DiagnosisScene& scene);
std::string diagnosis_map_png(const DiagnosisScene& scene);
// Writes diagnosis.png and diagnosis.pdf into an existing folder. Throws InputError.
void write_diagnosis_map(const DiagnosisScene& scene, const std::string& png,
                         const std::filesystem::path& folder);

} // namespace lowspot::report
