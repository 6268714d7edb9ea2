// Surfaces, text and images on Cairo and Pango, owned so that nothing leaks when an error is thrown.
#pragma once
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include <cairo.h>

#include <lowspot/report/color.hpp>

namespace lowspot::report {

// Gives contexts and surfaces back.
struct CairoDeleter {
  void operator()(cairo_t* context) const { cairo_destroy(context); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
// A context that is given back when it goes out of scope.
using Context = std::unique_ptr<cairo_t, CairoDeleter>;
// A surface likewise.
using Surface = std::unique_ptr<cairo_surface_t, CairoDeleter>;

// The room that something drawn takes.
struct Size {
  double width = 0, height = 0; // points
};
// Something that draws.
using Drawing = std::function<void(cairo_t*)>;

// A drawing of the given size [points] as PNG bytes, `scale` pixels a point; transparent where nothing is
// drawn when `paper` is false. Throws NumericsError when Cairo fails.
std::string png(const Size& size, double scale, bool paper, const Drawing& drawing);
// The same drawing fitted to one landscape page (A4 when metric, letter otherwise) as PDF bytes.
std::string pdf_page(const Size& size, bool metric, const std::string& title, const Drawing& drawing);

// How a text is set.
struct TextStyle {
  double size = 9;             // points
  bool bold = false;           // in bold type
  bool italic = false;         // in italics
  Rgb color = {0.1, 0.1, 0.1}; // of the letters
  bool halo = false;           // white outline, for text over a map
  double width = 0;            // wrapped to this width; 0: one line
};
// Width and height of a text as it would be drawn [points].
Size text_size(cairo_t* context, const std::string& text, const TextStyle& style);
// x, y: top left corner.
void draw_text(cairo_t* context, double x, double y, const std::string& text, const TextStyle& style);

// For what is drawn next; alpha 0 is clear, 1 is solid.
void set_color(cairo_t* context, const Rgb& color, double alpha = 1);

// Premultiplied ARGB pixels, top row first.
struct Image {
  int width = 0, height = 0;         // pixels
  std::vector<std::uint32_t> pixels; // row by row
};
// A pixel of an image, colours times alpha; an image drawn into a rectangle.
std::uint32_t pixel(const Rgb& color, double alpha = 1);
void draw_image(cairo_t* context, const Image& image, double x, double y, double width, double height);

} // namespace lowspot::report
