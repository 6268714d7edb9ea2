#include <lowspot/study/run_key.hpp>

#include <fstream>

#include "catch.hpp"
#include "results/scratch_folder.hpp"
#include "study/tuned_yard.hpp"

using namespace lowspot;

TEST_CASE("a run is known by the figures of its design, the cell and the method, not by its name") {
  const SimpleYard yard = bowl_to_tune();
  site::Design design = yard.site.designs.front();
  const std::string key = study::run_key("yard", &design, 0.25, "routed");
  design.name = "another name";
  CHECK(study::run_key("yard", &design, 0.25, "routed") == key);
  CHECK(study::run_key("yard", &design, 0.25, "dynamic") != key);
  CHECK(study::run_key("yard", &design, 0.5, "routed") != key);
  CHECK(study::run_key("other yard", &design, 0.25, "routed") != key);
  CHECK(study::run_key("yard", nullptr, 0.25, "routed") != key);
  design.runs[0].cap.depth = 0.01;
  CHECK(study::run_key("yard", &design, 0.25, "routed") != key);
}

TEST_CASE("a yard is known by what its file says and by the files it names, [tune] and comments apart") {
  const ScratchFolder folder;
  SimpleYard yard = bowl_to_tune();
  yard.site.folder = folder.path;
  yard.site.file = folder.path / "site.toml";
  const auto key_of = [&](const std::string& text, const std::string& levels) {
    std::ofstream(yard.site.file) << text;
    std::ofstream(folder.path / "levels.csv") << levels;
    return study::study_key(yard.site, yard.ground, "1");
  };
  const std::string site = "[site]\nname = \"t\"\n[ground]\nlevels = \"levels.csv\"\n", levels = "x,y\n1,2\n";
  const std::string key = key_of(site, levels);
  CHECK(key_of("# a comment\n" + site + "[tune]\nvary = {}\n", levels) == key);
  CHECK(key_of(site, "x,y\n1,3\n") != key);
  CHECK(key_of(site + "[target]\nclear_within = \"3 hr\"\n", levels) != key);
  CHECK(key_of(site, levels) == key);
  CHECK(study::study_key(yard.site, yard.ground, "2") != key);
  yard.ground.elevation[3] += 0.001;
  CHECK(key_of(site, levels) != key);
}
