#include "catch.hpp"

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("a picture has the size asked for and paper where nothing is drawn") {
  const auto pixels = sample::decode(png({10, 6}, 2, true, [](cairo_t* context) {
    cairo_set_source_rgb(context, 1, 0, 0);
    cairo_rectangle(context, 0, 0, 5, 6);
    cairo_fill(context);
  }));
  CHECK(pixels.width == 20);
  CHECK(pixels.height == 12);
  CHECK(pixels.at(0, 0) == 0xffff0000u);
  CHECK((pixels.at(19, 11) & 0xffffffu) == 0xffffffu);
}

TEST_CASE("pixels keep their colour and their place") {
  const Image image{2, 1, {pixel({1, 0, 0}), pixel({0, 0, 1}, 0)}};
  const auto pixels = sample::decode(
      png({4, 2}, 1, false, [&](cairo_t* context) { draw_image(context, image, 0, 0, 4, 2); }));
  CHECK(pixels.at(1, 1) == 0xffff0000u);
  CHECK(pixels.at(3, 0) == 0u);
}

TEST_CASE("text is measured as it is drawn, whatever bytes it holds") {
  std::string bytes;
  bytes = png({200, 40}, 1, true, [](cairo_t* context) {
    const TextStyle style;
    const Size size = text_size(context, "bed \xff corner", style);
    CHECK(size.width > 20);
    CHECK(size.width < 200);
    draw_text(context, 2, 2, "bed \xff corner", style);
  });
  CHECK(sample::decode(bytes).inked(0, 0, 200, 40) > 0.005);
}

TEST_CASE("a sign that no font has is left out of a picture, not drawn as a box") {
  png({200, 40}, 1, true, [](cairo_t* context) {
    const TextStyle style;
    const double plain = text_size(context, "bed corner", style).width;
    CHECK(text_size(context, "bed \U000F0000corner\U000F0001", style).width == plain); // of private use
    CHECK(text_size(context, "bed c\u00f6rner", style).width > plain / 2);
    CHECK(text_size(context, "\U000F0000", style).width == 0);
  });
}

TEST_CASE("the same drawing makes a page for print") {
  const std::string pdf = pdf_page({100, 50}, true, "title", [](cairo_t* context) { cairo_paint(context); });
  CHECK(pdf.substr(0, 5) == "%PDF-");
  CHECK(pdf.find("842") != std::string::npos); // A4, landscape
  CHECK(pdf_page({1, 1}, false, "", [](cairo_t*) {}).find("792") != std::string::npos);
  // The same run must write the same bytes whenever it is made.
  CHECK_THAT(pdf, ContainsSubstring("/Title") && !ContainsSubstring("Date"));
}
