// The figures on the layers' pages are those that the tests measure. The folder is filled by the tests of the
// layers and of verification/ when LOWSPOT_FIGURES names it, as ctest does; the target 'pages' writes the
// tables anew.
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "catch.hpp"
#include "figures/page_table.hpp"

using namespace figures;

namespace {

const std::filesystem::path root = std::filesystem::path(LOWSPOT_SOURCE_DATA).parent_path();

std::string content(const std::filesystem::path& file) {
  std::ifstream stream(file);
  std::stringstream text;
  text << stream.rdbuf();
  return text.str();
}

std::map<std::string, Tables> measured() {
  const char* folder = std::getenv("LOWSPOT_FIGURES");
  if (!folder || !std::filesystem::exists(folder))
    FAIL("set LOWSPOT_FIGURES to a folder that the other tests filled");
  return read_figures(folder);
}

} // namespace

TEST_CASE("the figures on the pages are those that the tests measure") {
  const auto pages = measured();
  for (const char* layer :
       {"surface", "soil", "perched", "drain", "terrain", "rain", "measure", "yard", "study"})
    CHECK(pages.count(layer) == 1);
  for (const auto& [layer, tables] : pages) {
    const PageCheck check = check_page(content(root / "libsim" / layer / "README.md"), tables);
    for (const std::string& fault : check.faults) {
      UNSCOPED_INFO(fault);
      FAIL_CHECK("libsim/" << layer << "/README.md: run the target 'pages', and look at what changed");
    }
  }
}

TEST_CASE("write the tables into the pages", "[.write]") {
  for (const auto& [layer, tables] : measured()) {
    const std::filesystem::path page = root / "libsim" / layer / "README.md";
    const std::string before = content(page), after = check_page(before, tables).mended;
    if (before != after) std::ofstream(page) << after;
  }
}

TEST_CASE("a page that prints another figure is found, rounding is not") {
  CHECK(agrees("| a | 2.08 | 0.30 % |", "| a | 2.09 | 0.31 % |"));
  CHECK_FALSE(agrees("| a | 2.08 | 0.3 % |", "| a | 2.10 | 0.3 % |"));
  CHECK_FALSE(agrees("| a | 2.08 | 0.3 % |", "| b | 2.08 | 0.3 % |"));
  CHECK_FALSE(agrees("| a | 2.08 | 0.30 % |", "| a | 2.08 | 0.32 % |"));
  CHECK(agrees("1.0e-05", "1.1e-05"));
  CHECK_FALSE(agrees("1.0e-05", "1.2e-05"));
  CHECK(agrees("below 0.0001", "below 0.0001"));
  CHECK(agrees("below 0.0001", "0.0001"));
  CHECK_FALSE(agrees("below 0.0001", "0.0002"));
  CHECK_FALSE(agrees("1e-03", "below 0.0001"));
  const Tables tables = {{"verification", {"| case | 1.00 |", "| other | 2.00 |"}}};
  const std::string head = "# Page\n<!-- figures: verification -->\n| what | exact |\n|---|---|\n",
                    tail = "<!-- end of figures -->\nmore\n";
  const std::string right = head + "| case | 1.00 |\n| other | 2.00 |\n" + tail;
  CHECK(check_page(right, tables).faults.empty());
  CHECK(check_page(right, tables).mended == right);
  CHECK(check_page(head + "| case | 1.00 |\n| other | 2.05 |\n" + tail, tables).faults.size() == 1);
  const PageCheck missing = check_page(head + "| case | 1.00 |\n" + tail, tables);
  CHECK(missing.faults.size() == 1);
  CHECK(missing.mended == right);
  CHECK(check_page(right + "<!-- figures: unknown -->\n| a |\n|---|\n" + tail, tables).faults.size() == 1);
  CHECK(check_page("# Page\n", tables).faults.size() == 1);
}

TEST_CASE("readings become lines: ranges, the largest error, what is allowed") {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "lowspot-figures-test";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "one.tsv") << "reading\tsoil\tplot\tdepth, mm\t10\t10.1\tshare\t0.02\t0\n"
                                    << "reading\tsoil\tplot\torder\t0\t1.98\tat least\t1.8\t0\n"
                                    << "reading\tsoil\tplot\tdepth, mm\t20\t19.9\tshare\t0.05\t0\n"
                                    << "reading\tsoil\tpond\tdepth, mm\t5\t5\tamount\t1e-08\t0\n"
                                    << "row\tsoil\ttextures\tsand\t1.0 / 2.0\n";
  const auto pages = read_figures(folder);
  std::filesystem::remove_all(folder);
  const Tables& tables = pages.at("soil");
  CHECK(tables.at("textures") == std::vector<std::string>{"| sand | 1.0 / 2.0 |"});
  CHECK(tables.at("verification") ==
        std::vector<std::string>{"| plot | depth, mm | 10.0 to 20.0 | 10.1 to 19.9 | 1 % | 2 % to 5 % |",
                                 "| plot | order | | 2 | | at least 1.8 |",
                                 "| pond | depth, mm | 5.00 | 5.00 | below 0.0001 | 1e-08 |"});
  CHECK(shown(3712.595) == "3713");
  CHECK(shown(0.0875) == "0.0875");
  CHECK(shown(1.796e-5) == "1.80e-05");
}
