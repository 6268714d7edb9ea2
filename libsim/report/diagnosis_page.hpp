// The diagnosis as one page and its files.
#pragma once
#include <filesystem>
#include <string>

#include <lowspot/report/diagnosis_map.hpp>

namespace lowspot::report {

// A page that needs nothing but itself. picture: PNG bytes of the map.
std::string diagnosis_html(const DiagnosisScene& scene, const std::string& picture);

// Writes diagnosis.html, diagnosis.json, diagnosis.png and diagnosis.pdf into the folder, each whole or not
// at all. Throws InputError when the folder cannot be used or holds another site's results.
void write_diagnosis(const DiagnosisScene& scene, const std::filesystem::path& folder,
                     bool overwrite = false);

} // namespace lowspot::report
