#include <lowspot/report/paint.hpp>

#include <algorithm>
#include <cmath>
#include <cstring>

#include <cairo-pdf.h>
#include <pango/pangocairo.h>

#include <lowspot/base/error.hpp>

namespace lowspot::report {
namespace {

cairo_status_t collect(void* bytes, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

void check(cairo_status_t status) {
  if (status != CAIRO_STATUS_SUCCESS)
    throw NumericsError(std::string("a picture could not be drawn: ") + cairo_status_to_string(status));
}

struct GObjectDeleter {
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
};
using Layout = std::unique_ptr<PangoLayout, GObjectDeleter>;

// Signs that no font at hand has (emoji, mostly) would be drawn as boxes with a number: they are left out.
void leave_out_unknown(PangoLayout* layout, const char* text) {
  std::string known;
  for (const char *at = text, *next = text; *at != '\0'; at = next) {
    next = g_utf8_next_char(at);
    pango_layout_set_text(layout, at, static_cast<int>(next - at));
    if (pango_layout_get_unknown_glyphs_count(layout) == 0) known.append(at, next);
  }
  pango_layout_set_text(layout, known.c_str(), -1);
}

Layout make_layout(cairo_t* context, const std::string& text, const TextStyle& style) {
  Layout layout(pango_cairo_create_layout(context));
  const std::unique_ptr<PangoFontDescription, decltype(&pango_font_description_free)> font(
      pango_font_description_from_string("DejaVu Sans, Liberation Sans, Sans"), pango_font_description_free);
  pango_font_description_set_absolute_size(font.get(), style.size * PANGO_SCALE);
  if (style.bold) pango_font_description_set_weight(font.get(), PANGO_WEIGHT_BOLD);
  if (style.italic) pango_font_description_set_style(font.get(), PANGO_STYLE_ITALIC);
  pango_layout_set_font_description(layout.get(), font.get());
  if (style.width > 0) {
    pango_layout_set_width(layout.get(), static_cast<int>(style.width * PANGO_SCALE));
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
  }
  // Names come from the user's file and may not be UTF-8.
  const std::unique_ptr<char, decltype(&g_free)> valid(
      g_utf8_make_valid(text.data(), static_cast<gssize>(text.size())), g_free);
  pango_layout_set_text(layout.get(), valid.get(), -1);
  if (pango_layout_get_unknown_glyphs_count(layout.get()) > 0) leave_out_unknown(layout.get(), valid.get());
  return layout;
}

} // namespace

std::string png(const Size& size, double scale, bool paper, const Drawing& drawing) {
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32,
                                                   static_cast<int>(std::ceil(size.width * scale)),
                                                   static_cast<int>(std::ceil(size.height * scale))));
  const Context context(cairo_create(surface.get()));
  if (paper) {
    cairo_set_source_rgb(context.get(), 1, 1, 1);
    cairo_paint(context.get());
  }
  cairo_scale(context.get(), scale, scale);
  drawing(context.get());
  check(cairo_status(context.get()));
  std::string bytes;
  check(cairo_surface_write_to_png_stream(surface.get(), collect, &bytes));
  return bytes;
}

std::string pdf_page(const Size& size, bool metric, const std::string& title, const Drawing& drawing) {
  constexpr double margin = 28;
  const Size page = metric ? Size{842, 595} : Size{792, 612};
  std::string bytes;
  {
    const Surface surface(cairo_pdf_surface_create_for_stream(collect, &bytes, page.width, page.height));
    // So old that any printer reads it.
    cairo_pdf_surface_restrict_to_version(surface.get(), CAIRO_PDF_VERSION_1_4);
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    // The date of the file says enough: without it, the same run writes the same bytes.
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "");
    const Context context(cairo_create(surface.get()));
    const double fit =
        std::min((page.width - 2 * margin) / size.width, (page.height - 2 * margin) / size.height);
    cairo_translate(context.get(), (page.width - fit * size.width) / 2,
                    (page.height - fit * size.height) / 2);
    cairo_scale(context.get(), fit, fit);
    drawing(context.get());
    cairo_show_page(context.get());
    cairo_surface_finish(surface.get());
    check(cairo_status(context.get()));
    check(cairo_surface_status(surface.get()));
  }
  return bytes;
}

Size text_size(cairo_t* context, const std::string& text, const TextStyle& style) {
  const Layout layout = make_layout(context, text, style);
  int width = 0, height = 0;
  pango_layout_get_size(layout.get(), &width, &height);
  return {static_cast<double>(width) / PANGO_SCALE, static_cast<double>(height) / PANGO_SCALE};
}

void draw_text(cairo_t* context, double x, double y, const std::string& text, const TextStyle& style) {
  const Layout layout = make_layout(context, text, style);
  cairo_save(context);
  cairo_move_to(context, x, y);
  if (style.halo) {
    pango_cairo_layout_path(context, layout.get());
    cairo_set_source_rgba(context, 1, 1, 1, 0.85);
    cairo_set_line_width(context, style.size * 0.32);
    cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
    cairo_stroke(context);
    cairo_move_to(context, x, y);
  }
  set_color(context, style.color);
  pango_cairo_show_layout(context, layout.get());
  cairo_restore(context);
  cairo_new_path(context);
}

void set_color(cairo_t* context, const Rgb& color, double alpha) {
  cairo_set_source_rgba(context, color.r, color.g, color.b, alpha);
}

std::uint32_t pixel(const Rgb& color, double alpha) {
  const auto byte = [](double v) {
    return static_cast<std::uint32_t>(std::lround(255 * std::clamp(v, 0.0, 1.0)));
  };
  return byte(alpha) << 24 | byte(color.r * alpha) << 16 | byte(color.g * alpha) << 8 | byte(color.b * alpha);
}

void draw_image(cairo_t* context, const Image& image, double x, double y, double width, double height) {
  if (image.width <= 0 || image.height <= 0) return;
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, image.width, image.height));
  check(cairo_surface_status(surface.get()));
  const int stride = cairo_image_surface_get_stride(surface.get());
  unsigned char* rows = cairo_image_surface_get_data(surface.get());
  for (int row = 0; row < image.height; ++row)
    std::memcpy(rows + static_cast<std::ptrdiff_t>(row) * stride,
                image.pixels.data() + static_cast<std::ptrdiff_t>(row) * image.width,
                sizeof(std::uint32_t) * static_cast<std::size_t>(image.width));
  cairo_surface_mark_dirty(surface.get());
  cairo_save(context);
  cairo_translate(context, x, y);
  cairo_scale(context, width / image.width, height / image.height);
  cairo_set_source_surface(context, surface.get(), 0, 0);
  cairo_pattern_set_filter(cairo_get_source(context), CAIRO_FILTER_NEAREST);
  cairo_paint(context);
  cairo_restore(context);
}

} // namespace lowspot::report
