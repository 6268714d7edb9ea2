#include "catch.hpp"

#include <fstream>

#include <lowspot/job/rod_text.hpp>

#include "report/sample_sheet.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("the crew reads every station, what to order, ties and cautions") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  const std::string page = crew_sheet_html(scene);
  for (const job::CutRun& run : scene.cut->runs) {
    CHECK_THAT(page, ContainsSubstring(run.name));
    for (const job::CutStation& station : run.stations)
      CHECK_THAT(page, ContainsSubstring(job::station_text(station.station, true)));
  }
  for (const char* words : {"Locate ticket", "45 degrees", "backsight", "From the lettered corners",
                            "No. 57, rounded, washed", "UNKNOWN until located", "passes through long bed"})
    CHECK_THAT(page, ContainsSubstring(words));
  CHECK(page.find("conductivity") == std::string::npos); // no theory
}

TEST_CASE("the crew reads where a cable is crossed and where roots are cut, before what it digs through") {
  sample::SheetMaker maker;
  results::CheckRecord cable, tree, unknown;
  cable.id = "utility_crossing", cable.name = "Crossing of garden light", cable.about = "carrier";
  cable.outcome = results::CheckOutcome::pass, cable.found_value = 0.3;
  cable.found = "12 in, 6 ft up from the outlet; dig by hand from 4 ft to 8 ft up from the outlet";
  tree.id = "roots", tree.name = "Roots of trees", tree.about = "oak", tree.found = "40 %";
  tree.outcome = results::CheckOutcome::fail;
  unknown.id = "utility_crossing", unknown.name = "Utilities in the ground";
  maker.comparison.designs[1].checks = {tree, cable, unknown};
  const std::string page = crew_sheet_html(maker.scene());
  const auto crossing =
      page.find("Crossing of garden light, carrier: 12 in clear, 6 ft up from the outlet; dig by hand");
  REQUIRE(crossing != std::string::npos);
  CHECK(crossing < page.find("Roots of trees, oak"));
  CHECK(page.find("Roots of trees, oak") < page.find("passes through long bed"));
  CHECK_THAT(page, ContainsSubstring("Roots of trees, oak: 40 %.") &&
                       !ContainsSubstring("Utilities in the ground") &&
                       ContainsSubstring("UNKNOWN until located"));
  maker.comparison.designs[1].checks[0].outcome = results::CheckOutcome::pass; // enough is left uncut
  CHECK_THAT(crew_sheet_html(maker.scene()), !ContainsSubstring("Roots of trees"));
}

TEST_CASE("earth is counted in the yard's own unit alone") {
  sample::SheetMaker maker;
  terrain::Earthwork work;
  work.name = "swale", work.kind = "swale", work.cut = 2, work.fill = 1;
  maker.comparison.designs[1].earthworks = {work};
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("cut 2.6 cu yd, fill 1.3 cu yd"));
  maker.comparison.units = maker.site.units = "m";
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("cut 2.0 m³, fill 1.0 m³"));
}

TEST_CASE("a trench is as wide as a bucket") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  const std::string page = crew_sheet_html(scene);
  for (const job::CutRun& run : scene.cut->runs)
    CHECK_THAT(page, ContainsSubstring("trench " + job::width_text(run.width, job::RodUnit::eighths) +
                                       " wide, up to 1&#39;\u00a0"));
}

TEST_CASE("the crew reads where a pipe in earth lies on stone") {
  sample::SheetMaker maker;
  CHECK_THAT(crew_sheet_html(maker.scene()), !ContainsSubstring("on a bed of stone"));
  for (site::Run& run : maker.site.designs[0].runs)
    if (!run.has_trench) run.bedding = 0.1016;
  CHECK_THAT(crew_sheet_html(maker.scene()),
             ContainsSubstring("invert 4 in above its bottom; on a bed of stone, earth around and over it."));
}

TEST_CASE("cloth lines open stone and is lapped under anything else; a crossed line stands at its station") {
  sample::SheetMaker maker;
  site::Run* trench = nullptr;
  for (site::Run& run : maker.site.designs[0].runs)
    if (run.has_trench) trench = &run;
  REQUIRE(trench != nullptr);
  trench->fabric = {"nonwoven 6 oz", 1.5, 1};
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("lapped over it"));
  trench->cap.of_stone = true;
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("up its sides, open at the top"));
  const Point middle = point_along(trench->path, 0.47 * length(trench->path));
  site::Utility gas;
  gas.name = "gas line";
  gas.path = {{middle.x - 1, middle.y - 2}, {middle.x + 1, middle.y + 2}};
  maker.site.utilities = {gas};
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("\u2715 gas</th>"));
  // Behind the name of the place where it is crossed, and with a second one in the same trench.
  const Point head = trench->path.front();
  maker.site.utilities[0].path = {{head.x - 1, head.y - 2}, {head.x + 1, head.y + 2}};
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("head \u2715 gas</th>"));
  maker.site.utilities.push_back(maker.site.utilities[0]);
  maker.site.utilities[1].name = "cable";
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("head \u2715 gas +</th>"));
}

TEST_CASE("the crew reads where the bottom steps up and the pipe does not") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  REQUIRE(maker.cut.runs.size() > 1);
  CHECK_THAT(crew_sheet_html(scene), ContainsSubstring("rise toward the outlet"));
  job::CutRun* upper = nullptr;
  job::CutRun* lower = nullptr;
  for (job::CutRun& a : maker.cut.runs)
    for (job::CutRun& b : maker.cut.runs)
      if (!a.to.empty() && b.stations.back().note == a.to) upper = &a, lower = &b;
  REQUIRE(upper != nullptr);
  lower->stations.back().invert = upper->stations.front().invert;
  lower->stations.back().bottom = upper->stations.front().bottom + 0.0381;
  CHECK_THAT(crew_sheet_html(scene),
             ContainsSubstring("rise toward the outlet, but up 1 1/2 in at " + upper->to));
}

TEST_CASE("the benchmark of the rod book stands on the crew's page") {
  const ScratchFolder scratch;
  sample::SheetMaker maker;
  CHECK_THAT(crew_sheet_html(maker.scene()), !ContainsSubstring("Benchmark of the levels"));
  std::ofstream(scratch.path / "levels.csv")
      << "point,x,y,backsight,intermediate,foresight,elevation,note\nsill,,,3.87,,,101.25,door\n"
         "1,0,60,,4.12,,,\n2,80,60,,4.97,,,\n3,10,50,,4.32,,,\n";
  maker.site.folder = scratch.path;
  maker.site.ground.levels = "levels.csv";
  maker.site.units = "ft", maker.site.unit = 0.3048;
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("Benchmark of the levels: <b>sill</b>") &&
                                                 ContainsSubstring("<b>101.25 ft</b>"));
  maker.site.ground.levels = "gone.csv";
  CHECK_THAT(crew_sheet_html(maker.scene()), !ContainsSubstring("Benchmark of the levels"));
}

TEST_CASE("a tape is read in metres and centimetres") {
  sample::SheetMaker maker;
  maker.comparison.units = maker.site.units = "m";
  const std::string page = crew_sheet_html(maker.scene());
  const auto ties = page.substr(page.find("From the lettered corners"));
  CHECK_THAT(ties.substr(0, ties.find("</table>")), ContainsSubstring(" m</td>") && !ContainsSubstring("mm"));
}

TEST_CASE("the crew reads which points no two corners see, and on which side of them a point lies") {
  sample::SheetMaker maker;
  const auto ties = [&] {
    const std::string page = crew_sheet_html(maker.scene());
    const auto from = page.find("From the lettered corners");
    return page.substr(from, page.find("</table>", from) - from);
  };
  CHECK_THAT(ties(),
             ContainsSubstring("A ") && !ContainsSubstring("in sight") && !ContainsSubstring("on the "));
  const auto feet = [](std::vector<Point> corners) {
    for (Point& corner : corners) corner.x *= sample::foot, corner.y *= sample::foot;
    return corners;
  };
  site::Building screen;
  screen.outline = feet({{1, 24}, {59, 24}, {59, 25}, {1, 25}});
  site::Building& house = maker.site.buildings[0]; // whose corners are as many as have a letter
  house.outline = feet({{8, 34}, {27, 34}, {46, 34}, {46, 37}, {46, 40}, {27, 40}, {8, 40}, {8, 37}});
  maker.site.buildings.push_back(screen);
  CHECK_THAT(ties(), ContainsSubstring("no two corners in sight") && ContainsSubstring("stake out [24, 16]"));
  maker.site.buildings.resize(1);
  maker.site.buildings[0].outline = feet({{30, 10}, {33, 10}, {33, 12}, {30, 12}}); // with yard on all sides
  CHECK_THAT(ties(), ContainsSubstring("tee, on the "));
}

TEST_CASE("stations thin out until they fit") {
  sample::SheetMaker maker;
  maker.scene();
  site::Design design = maker.site.designs[0];
  design.runs[1].path = {{24 * sample::foot, 16 * sample::foot}, {24 * sample::foot, 0}};
  std::size_t close = 0;
  const job::CutSheet fine = job::make_cut_sheet(maker.site, design, maker.ground, 0.3);
  for (const job::CutRun& run : fine.runs) close += run.stations.size() + 1;
  REQUIRE(close > 26);
  std::size_t kept = 0;
  for (const job::CutRun& run : crew_cut_sheet(maker.site, design, maker.ground).runs) {
    kept += run.stations.size() + 1;
    CHECK(run.stations.size() >= 2);
  }
  CHECK(kept <= 26);
}

TEST_CASE("a deep trench is said first") {
  sample::SheetMaker maker;
  maker.site.designs[0].runs[0].trench_depth = 1.6;
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("protective system"));
}

TEST_CASE("the crew reads what is set beside the pipe: a pump with its basin and switches, a gutter") {
  sample::SheetMaker maker;
  site::Design& design = maker.site.designs[0];
  CHECK(crew_sheet_html(maker.scene()).find("Other works") == std::string::npos);
  site::Outlet& outlet = design.outlets[0];
  outlet.kind = "pump";
  outlet.well.plan = 0.19635, outlet.well.perimeter = 1.5708, outlet.well.depth = 1.5;
  outlet.pump_rate = 0.002, outlet.pump_on = 0.4, outlet.pump_off = 0.1;
  const std::string page = crew_sheet_html(maker.scene());
  for (const char* words :
       {"Other works", "(pump)", "19.7 in across", "gal/min", "over the bottom", "outside the yard"})
    CHECK_THAT(page, ContainsSubstring(words));
}

TEST_CASE("a pit as deep as a person is warned of, however shallow the trenches") {
  sample::SheetMaker maker;
  CHECK_THAT(crew_sheet_html(maker.scene()), !ContainsSubstring("a way out within 25 ft"));
  site::Outlet pit = maker.site.designs[0].outlets.front();
  pit.name = "pit";
  pit.kind = "dry well";
  pit.well = {1.1, 3.8, 4.5 * 0.3048, 0.4, 1e-6};
  const SheetScene scene = maker.scene(); // the sheets stay those of the trenches
  maker.site.designs[0].outlets.push_back(pit);
  CHECK_THAT(crew_sheet_html(scene), ContainsSubstring("a way out within 25 ft"));
}

TEST_CASE("what there is to order stands on the page, down to stone and sod") {
  sample::SheetMaker maker;
  SheetScene scene = maker.scene();
  job::Takeoff many = *scene.takeoff;
  while (many.lines.size() < 22) many.lines.insert(many.lines.begin(), many.lines.front());
  many.lines.back().item = "the last of all";
  scene.takeoff = &many;
  CHECK_THAT(crew_sheet_html(scene),
             ContainsSubstring("the last of all: ") && !ContainsSubstring("more: see takeoff"));
}

TEST_CASE("works that stand already are neither dug nor passed under again") {
  sample::SheetMaker maker;
  terrain::Earthwork first, second;
  first.name = "old swale", first.kind = "swale", first.cut = 2;
  second.name = "new bank", second.kind = "berm", second.fill = 1;
  maker.comparison.designs[1].earthworks = {first, second};
  CHECK_THAT(crew_sheet_html(maker.scene()),
             ContainsSubstring("old swale") && ContainsSubstring("west leg passes through long bed"));
  maker.site.designs[0].standing = {"old swale", "west leg"};
  CHECK_THAT(crew_sheet_html(maker.scene()),
             !ContainsSubstring("old swale") && ContainsSubstring("new bank (berm)") &&
                 !ContainsSubstring("west leg passes through") && ContainsSubstring("carrier"));
}

TEST_CASE("what the page has no room for is said to stand on the page that has it") {
  sample::SheetMaker maker;
  SheetScene scene = maker.scene();
  job::Takeoff many = *scene.takeoff;
  while (many.lines.size() < 40) many.lines.push_back(many.lines.front());
  scene.takeoff = &many;
  for (int k = 0; k < 9; ++k) {
    site::Inlet inlet;
    inlet.name = "grate " + std::to_string(k), inlet.at = {(2.0 + k) * sample::foot, 10 * sample::foot};
    maker.site.designs[0].inlets.push_back(inlet);
  }
  for (int k = 0; k < 5; ++k)
    maker.comparison.designs[1].earthworks.push_back({"bank " + std::to_string(k), "berm", 0, 1});
  const std::string page = crew_sheet_html(scene);
  CHECK_THAT(page, ContainsSubstring(" more: see takeoff.html") &&
                       ContainsSubstring("and 4 more: see cutsheet.html") &&
                       ContainsSubstring(" more: see their places in the site file"));
}

TEST_CASE("a job without a trench has rules for the ground, not for pipes") {
  sample::SheetMaker maker;
  CHECK_THAT(crew_sheet_html(maker.scene()),
             ContainsSubstring("Slots down") && ContainsSubstring("for settling"));
  maker.site.designs[0].runs[0].pipe.slot_area = 0;
  CHECK_THAT(crew_sheet_html(maker.scene()),
             !ContainsSubstring("Slots down") && ContainsSubstring("for settling"));
  site::Design& design = maker.site.designs[0];
  design.runs.clear(), design.fittings.clear(), design.outlets.clear();
  site::Regrade swale;
  swale.name = "way", swale.kind = "swale", swale.width = 0.5;
  swale.path = {{12 * sample::foot, 6 * sample::foot, 30.5}, {24 * sample::foot, 2 * sample::foot, 30.45}};
  design.regrades = {swale};
  CHECK_THAT(crew_sheet_html(maker.scene()), !ContainsSubstring("Slots down") &&
                                                 !ContainsSubstring("for settling") &&
                                                 !ContainsSubstring("Begin at the outlet") &&
                                                 ContainsSubstring("Begin where the water is to end"));
}

TEST_CASE("soil is mounded, stone that is left open is not") {
  sample::SheetMaker maker;
  auto& runs = maker.site.designs[0].runs;
  runs[0].cap.of_topsoil = true;
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("Then cover, and mound 2 in for settling."));
  runs[0].cap.of_topsoil = false;
  CHECK_THAT(crew_sheet_html(maker.scene()),
             ContainsSubstring("Then cover; mound soil, not stone or grates, 2 in for settling."));
  maker.site.designs[0].standing = {"carrier"}; // which alone lies under soil
  CHECK_THAT(crew_sheet_html(maker.scene()),
             ContainsSubstring("Then cover, flush with the ground.") && !ContainsSubstring("for settling"));
}

TEST_CASE("where a run is cut off in the table, its stations are said to be elsewhere") {
  sample::SheetMaker maker;
  SheetScene scene = maker.scene();
  job::CutSheet many = *scene.cut;
  many.runs.resize(1);
  while (many.runs[0].stations.size() < 40) many.runs[0].stations.push_back(many.runs[0].stations.back());
  scene.cut = &many;
  CHECK_THAT(crew_sheet_html(scene), ContainsSubstring("The other stations stand in cutsheet.html."));
  many.runs.push_back(many.runs[0]);
  CHECK_THAT(crew_sheet_html(scene),
             ContainsSubstring("The other stations and runs stand in cutsheet.html."));
  // The right column begins within the run, and says so.
  CHECK_THAT(crew_sheet_html(scene),
             ContainsSubstring("colspan=\"7\">" + many.runs[0].name + ", further up<"));
  many.runs[0].stations.resize(24); // with its head 25 rows
  CHECK_THAT(crew_sheet_html(scene), ContainsSubstring("The other runs stand in cutsheet.html."));
}

TEST_CASE("the crew reads which soil to improve and which downspouts to send elsewhere") {
  sample::SheetMaker maker;
  site::Amend amend;
  amend.name = "better soil", amend.outline = sample::rectangle(10, 13, 40, 18), amend.depth_added = 0.1524;
  maker.site.designs[0].amends = {amend};
  maker.site.designs[0].downspouts = {{"east downspout", "carrier"}};
  CHECK_THAT(
      crew_sheet_html(maker.scene()),
      ContainsSubstring("better soil (improved soil)") &&
          ContainsSubstring("150 ft\u00b2 between [10, 13] and [40, 18]: topsoil worked through; tight layer "
                            "loosened 6 in deep") &&
          ContainsSubstring("east downspout (downspout)") && ContainsSubstring("led into carrier"));
}

TEST_CASE("where the drain ends in a dry well or a pump's pit, the crew is sent to no outlet in open air") {
  sample::SheetMaker maker;
  const std::string in_the_open = crew_sheet_html(maker.scene());
  CHECK_THAT(in_the_open, ContainsSubstring("water at the outlet") &&
                              ContainsSubstring("flow at the outlet") &&
                              ContainsSubstring("Begin at the outlet (station 0)"));
  maker.end_in_a_pit("");
  const std::string well = crew_sheet_html(maker.scene());
  CHECK_THAT(well, ContainsSubstring("Begin at the dry well (station 0)") &&
                       ContainsSubstring("rise toward the dry well") &&
                       ContainsSubstring("water that rises in the dry well") &&
                       ContainsSubstring("depth in the dry well") &&
                       ContainsSubstring("from the dry well up"));
  CHECK_THAT(well, !ContainsSubstring("at the outlet") && !ContainsSubstring("toward the outlet"));
  site::Outlet& outlet = maker.site.designs[0].outlets[0];
  outlet.kind = "pump";
  outlet.pump_rate = 0.002, outlet.pump_on = 0.4, outlet.pump_off = 0.1;
  CHECK_THAT(crew_sheet_html(maker.scene()),
             ContainsSubstring("Begin at the pump pit (station 0)") &&
                 ContainsSubstring("water at the end of the pump&#39;s hose"));
}

TEST_CASE("a page of more lines than a letter sheet holds in comfortable type is set in small type") {
  sample::SheetMaker maker;
  for (int k = 0; k < 10; ++k) { // ten stations more
    site::Utility line;
    line.name = "line", line.depth = 0.2;
    line.path = {{0, (1.0 + 0.335 * k)}, {64 * 0.3048, (1.0 + 0.335 * k)}};
    maker.site.utilities.push_back(line);
  }
  CHECK_THAT(crew_sheet_html(maker.scene()), !ContainsSubstring("class=\"tight\""));
  for (const char* name : {"cover", "fall", "depth", "frost"}) { // each a line of what is not kept
    results::CheckRecord check;
    check.id = check.name = name, check.outcome = results::CheckOutcome::fail;
    check.of_works = true;
    maker.comparison.designs[1].checks.push_back(check);
  }
  CHECK_THAT(crew_sheet_html(maker.scene()), ContainsSubstring("class=\"tight\""));
}
