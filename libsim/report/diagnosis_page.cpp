#include <lowspot/report/diagnosis_page.hpp>

#include <algorithm>

#include <lowspot/report/diagnosis_tables.hpp>
#include <lowspot/report/diagnosis_words.hpp>
#include <lowspot/report/document.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/site/trench_rules.hpp>
#include <lowspot/study/diagnosis_json.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_sentences = 6;

std::string section(const std::string& id, const std::string& title, const std::string& html) {
  return "<section id=\"" + id + "\" aria-labelledby=\"" + id + "-title\"><h3 id=\"" + id + "-title\">" +
         escape(title) + "</h3>\n" + html + "</section>\n";
}

std::string assumptions(const study::Diagnosis& diagnosis) {
  Table table{"Figures that were not given", {"what", "taken as", "how known"}, {}, {1, 2}};
  for (const auto& item : diagnosis.yard.defaults) table.rows.push_back({item[0], item[1], item[2]});
  return table.rows.empty() ? "" : table_html(table);
}

// Where the storm was run: the sources of each place's water.
std::string shares(const DiagnosisScene& scene) {
  if (scene.diagnosis.yard.designs.empty()) return "";
  const MapScene map{scene.site, scene.diagnosis.yard, scene.units};
  MapPictures pictures;
  pictures.sources = sources_picture(map);
  const std::string html = report::section("shares").html(Page{map, pictures, &scene.diagnosis});
  return html.empty() ? "" : section("shares", "Where the water comes from", html);
}

// The map is what this page is for, and what fills a puddle is its answer: both are on paper, too.
constexpr const char* style = "@media print{#map img{max-height:150mm}#shares .only-screen{display:block!"
                              "important}#shares img{max-height:80mm}}";

std::vector<std::string> limits(const site::Site& site, const study::Diagnosis& diagnosis) {
  const std::string run =
      diagnosis.yard.designs.empty()
          ? "Nothing was run: this page reads the ground and the covers. How long water stands, and what a "
            "drain would change, is told by lowspot compare."
          : "What a drain would change is told by lowspot compare.";
  return {run, "Have utilities located before any digging. " + site::trench_words(site),
          "Stay clear of footings; ask before water is sent over a lot line, a sidewalk or into a street."};
}

} // namespace

std::string diagnosis_html(const DiagnosisScene& scene, const std::string& picture) {
  const study::Diagnosis& diagnosis = scene.diagnosis;
  const std::string title = "Why it is wet: " + diagnosis.yard.site_name;
  std::string html = "<p class=\"sentence\">" + escape(diagnosis_headline(diagnosis, scene.units)) + "</p>\n";
  html += section("map", "Low spots of the ground", diagnosis_figure(diagnosis, picture));
  std::vector<std::string> others;
  const auto spots = spots_to_dig_for(diagnosis);
  for (std::size_t k = 1; k < std::min(spots.size(), most_sentences); ++k)
    others.push_back("No. " + std::to_string(spots[k]->spot.id) + ". " +
                     spot_sentence(diagnosis, *spots[k], scene.units));
  const std::string tables = low_spots_html(diagnosis, scene.units);
  html += section("low-spots", "What they hold and what fills them",
                  (others.empty() ? "" : list(others)) + tables);
  const std::string outlets = outlets_html(scene.site, diagnosis, scene.units);
  if (!outlets.empty()) html += section("outlets", "Where the water could go by gravity", outlets);
  html += shares(scene);
  if (!diagnosis.yard.warnings.empty())
    html += section("warnings", "Worth a second look", list(diagnosis.yard.warnings));
  html += section("assumptions", "What was assumed", assumptions(diagnosis));
  html += section("limits", "What this is not", list(limits(scene.site, diagnosis)));
  return document_html({title, html, diagnosis.yard.version, scene.units.metric, style});
}

void write_diagnosis(const DiagnosisScene& scene, const std::filesystem::path& folder, bool overwrite) {
  results::prepare_output_folder(folder, scene.diagnosis.yard.site_name, overwrite);
  const std::string picture = diagnosis_map_png(scene);
  write_diagnosis_map(scene, picture, folder);
  results::write_whole_file(folder / "diagnosis.json", study::diagnosis_json(scene.diagnosis));
  results::write_whole_file(folder / "diagnosis.html", diagnosis_html(scene, picture));
}

} // namespace lowspot::report
