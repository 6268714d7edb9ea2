#include <lowspot/site/run_reader.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string head = "[[design]]\nname = \"d\"\n[[design.run]]\nname = \"leg\"\n";
const std::string path = "path = [[10, 20], [30, 20]]\n", slotted = "pipe = \"3 in corrugated, slotted\"\n";
site::Run run_of(const std::string& more) {
  return read(yard(head + more)).designs.at(0).runs.at(0);
}
} // namespace

TEST_CASE("a run of few words gets the usual trench, listed") {
  const auto site = read(yard(head + path + slotted));
  const site::Run& run = site.designs.at(0).runs.at(0);
  CHECK(run.has_trench);
  CHECK(run.trench_width == Approx(0.3048));
  CHECK(run.bedding == Approx(0.0508));
  CHECK(run.trench_depth == Approx(0.4572));
  CHECK(run.fall == 0.01);
  CHECK(run.inverts.empty());
  CHECK(run.cap.of_topsoil);
  CHECK(run.cap.conductivity == site.soils.at(0).conductivity.likely);
  for (const char* key :
       {"trench.width", "trench.depth", "trench.bedding", "fall", "stone", "fabric", "cap", "to"})
    CHECK(assumed(site, "design[1].run[1]." + std::string(key)) != "not listed");
}

TEST_CASE("in a yard in metres the usual trench and its cap are round in millimetres") {
  const auto site = read(yard(head + path + slotted + "cap = \"mulch over stone\"\n", "m"));
  const site::Run& run = site.designs.at(0).runs.at(0);
  CHECK(run.trench_width == Approx(0.3).epsilon(1e-12));
  CHECK(run.bedding == Approx(0.05).epsilon(1e-12));
  CHECK(run.trench_depth == Approx(0.45).epsilon(1e-12));
  CHECK(run.cap.depth == Approx(0.05).epsilon(1e-12));
  const std::string key = "design[1].run[1].";
  CHECK(assumed(site, key + "trench.width") == "300 mm");
  CHECK(assumed(site, key + "trench.bedding") == "50 mm");
  CHECK(assumed(site, key + "trench.depth") == "450 mm");
  CHECK(assumed(site, key + "cap.depth") == "50 mm");
}

TEST_CASE("a solid pipe without stone is a carrier in backfill") {
  const auto site = read(yard(head + path + "pipe = \"3 in corrugated, solid\"\nfall = \"2 %\"\n"));
  const site::Run& run = site.designs.at(0).runs.at(0);
  CHECK_FALSE(run.has_trench);
  CHECK(run.pipe.slot_area == 0);
  CHECK(run.fall == Approx(0.02));
  CHECK(assumed(site, "design[1].run[1].stone") == "not listed");
  CHECK(warned(read(yard(head + path + "pipe = \"3 in corrugated, solid\"\ncap = \"sod\"\n")),
               "plain backfill"));
  CHECK(run_of(path + "pipe = \"3 in corrugated, solid\"\nstone = \"No. 57, rounded, washed\"\n").has_trench);
}

TEST_CASE("inverts as written") {
  const site::Run run = run_of(path + slotted + "inverts = [98.4, 98.2]\n");
  CHECK(run.inverts.at(1) == Approx(98.2 * 0.3048));
  CHECK(std::isnan(run.fall));
  const auto uphill = error_of(yard(head + path + slotted + "inverts = [98.2, 98.4]\n"));
  CHECK_THAT(uphill.found, ContainsSubstring("uphill") && ContainsSubstring("0.2 ft above"));
  CHECK_THAT(error_of(yard(head + path + slotted + "inverts = [98.4, 98.3, 98.2]\n")).expected,
             ContainsSubstring("head and foot"));
  CHECK(warned(read(yard(head + path + slotted + "inverts = [98.4, 98.2]\nfall = \"1 %\"\n")), "not used"));
  CHECK(warned(read(yard(head + path + slotted + "inverts = [98.4, 98.38]\n")), "under 0.5 %"));
}

TEST_CASE("falls that do not carry") {
  CHECK_THAT(error_of(yard(head + path + slotted + "fall = \"-1 %\"\n")).found, ContainsSubstring("uphill"));
  CHECK_THAT(error_of(yard(head + path + slotted + "fall = \"3 in\"\n")).where.key,
             ContainsSubstring("design[1].run[1].fall"));
  CHECK(warned(read(yard(head + path + slotted + "fall = \"0.2 %\"\n")), "bellies"));
  CHECK_FALSE(warned(read(yard(head + path + slotted + "fall = \"0.5 %\"\n")), "bellies"));
  CHECK(warned(read(yard(head + path + slotted + "fall = \"10 %\"\n")), "falls 10 %, 1.2 in per foot"));
  CHECK_FALSE(warned(read(yard(head + path + slotted + "fall = \"9 %\"\n")), "per foot"));
  CHECK(run_of(path + slotted + "fall = \"1 in per 8 ft\"\n").fall == Approx(1.0 / 96));
}

TEST_CASE("trenches too shallow, too narrow, or deep enough to kill") {
  CHECK_THAT(error_of(yard(head + path + slotted + "trench = { depth = \"6 in\" }\n")).expected,
             ContainsSubstring("room for"));
  CHECK_THAT(error_of(yard(head + path + slotted + "trench = { width = \"3 in\" }\n")).expected,
             ContainsSubstring("outside of the pipe"));
  CHECK(warned(read(yard(head + path + slotted + "trench = { depth = \"4 ft\" }\n")), "ladder"));
  CHECK(warned(read(yard(head + path + slotted + "trench = { depth = \"5 ft\" }\n")), "shoring or sloped"));
  CHECK(warned(read(yard(head + path + slotted + "trench = { depth = \"1.3 m\" }\n", "m")),
               "from 1.2 m (4 ft) a ladder within 7.6 m (25 ft)"));
  CHECK_FALSE(warned(read(yard(head + path + slotted + "trench = { depth = \"47 in\" }\n")), "ladder"));
  const auto width = error_of(yard(head + path + slotted + "trench = { width = 12 }\n"));
  CHECK(width.where.key == "design[1].run[1].trench.width");
}

TEST_CASE("a trench as wide as a pit is warned of") {
  const auto with = [](const std::string& width) {
    return read(yard("[[design]]\nname = \"d\"\n[[design.run]]\npath = [[10, 20], [60, 20]]\n"
                     "pipe = \"3 in corrugated, slotted\"\ntrench = { width = \"" +
                     width + "\" }\n"));
  };
  CHECK(warned(with("12 ft"), "trench.width: 12 ft is a pit"));
  CHECK_FALSE(warned(with("2 ft"), "pit"));
}

TEST_CASE("a path that leaves the yard is refused") {
  CHECK_THAT(error_of(yard(head + "path = [[10, 20], [61, 20]]\n" + slotted)).found,
             ContainsSubstring("outside the yard"));
  CHECK(run_of("path = [[10, 20], [60, 20]]\n" + slotted).path.size() == 2); // the foot may lie on the limit
}

TEST_CASE("the topsoil under a place is that of the area there") {
  const auto site =
      read(yard("[[soil]]\nname = \"a\"\ntopsoil = { conductivity = \"1 in/hr\" }\n[[soil]]\nname = \"b\"\n"
                "topsoil = { conductivity = \"2 in/hr\" }\n[[area]]\nkind = \"lawn\"\nsoil = "
                "\"b\"\nrectangle = [0, 0, 10, 10]\n"));
  CHECK(topsoil_conductivity_at(site, {1, 1}) == Approx(2 * 0.0254 / 3600));
  CHECK(topsoil_conductivity_at(site, {5, 5}) == Approx(0.0254 / 3600));
}
