#include "catch.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/report/write_maps.hpp>
#include <lowspot/results/output_folder.hpp>

#include "report/picture.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot::report;

TEST_CASE("pictures are whole and the print file is a page") {
  const ScratchFolder scratch;
  const sample::PageMaker maker;
  const auto page = maker.page();
  const MapPictures pictures = draw_pictures(page.scene);
  for (const std::string* bytes : {&pictures.before_after, &pictures.standing_hours, &pictures.max_depth}) {
    const auto pixels = sample::decode(*bytes);
    CHECK(pixels.width > 1000);
    CHECK(pixels.inked(0, 0, pixels.width, pixels.height) > 0.3);
    CHECK(bytes->size() < 1500000);
  }
  write_maps(page.scene, pictures, scratch.path);
  for (const char* name : {"before-after.png", "before-after.pdf", "standing-hours.png", "max-depth.png",
                           "perched.png", "perched.pdf"})
    CHECK(file_size(scratch.path / "maps" / name) > 5000);
  CHECK_THROWS_AS(write_maps(page.scene, pictures, scratch.path / "maps" / "max-depth.png"),
                  lowspot::InputError);
}

TEST_CASE("maps of sources go with the run that followed them") {
  const ScratchFolder scratch;
  const sample::PageMaker maker;
  const auto page = maker.page();
  const MapPictures pictures = draw_pictures(page.scene);
  REQUIRE(pictures.sources.empty());
  const auto maps = scratch.path / "maps";
  create_directories(maps);
  for (const char* name : {"sources.png", "sources.pdf", "mine.png"})
    lowspot::results::write_whole_file(maps / name, "of an earlier run");
  write_maps(page.scene, pictures, scratch.path);
  CHECK_FALSE(exists(maps / "sources.png"));
  CHECK_FALSE(exists(maps / "sources.pdf"));
  CHECK(exists(maps / "mine.png"));
}
