// Pictures and pages made from the sample, and pixels read back.
#pragma once
#include <cstdint>
#include <cstring>
#include <memory>
#include <string>
#include <vector>

#include <lowspot/report/paint.hpp>
#include <lowspot/report/report_page.hpp>

#include "report/sample_site.hpp"

namespace sample {

struct Pixels {
  int width = 0, height = 0;
  std::vector<std::uint32_t> argb;
  std::uint32_t at(int x, int y) const { return argb[static_cast<std::size_t>(y) * width + x]; }
  // Share of pixels in a rectangle that are not white.
  double inked(int x0, int y0, int x1, int y1) const {
    double count = 0;
    for (int y = y0; y < y1; ++y)
      for (int x = x0; x < x1; ++x) count += (at(x, y) & 0xffffffu) != 0xffffffu;
    return count / ((x1 - x0) * (y1 - y0));
  }
};

inline Pixels decode(const std::string& png) {
  struct Source {
    const std::string& bytes;
    std::size_t at = 0;
  } source{png};
  const auto read = [](void* closure, unsigned char* data, unsigned int length) {
    auto& from = *static_cast<Source*>(closure);
    if (from.at + length > from.bytes.size()) return CAIRO_STATUS_READ_ERROR;
    std::memcpy(data, from.bytes.data() + from.at, length);
    from.at += length;
    return CAIRO_STATUS_SUCCESS;
  };
  const lowspot::report::Surface surface(cairo_image_surface_create_from_png_stream(read, &source));
  Pixels pixels;
  if (cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS) return pixels;
  pixels.width = cairo_image_surface_get_width(surface.get());
  pixels.height = cairo_image_surface_get_height(surface.get());
  const int stride = cairo_image_surface_get_stride(surface.get());
  for (int y = 0; y < pixels.height; ++y) {
    const auto* row = cairo_image_surface_get_data(surface.get()) + static_cast<std::ptrdiff_t>(y) * stride;
    const auto* first = reinterpret_cast<const std::uint32_t*>(row);
    pixels.argb.insert(pixels.argb.end(), first, first + pixels.width);
  }
  return pixels;
}

// A page whose parts may be changed before it is written.
struct PageMaker {
  lowspot::site::Site site = sample::site();
  Comparison comparison = sample::comparison();
  lowspot::report::MapPictures pictures{"before", "hours", "depth", "", "", "perched"};
  lowspot::report::Page page() const {
    return {{site, comparison, lowspot::report::units_for(comparison.units)}, pictures};
  }
};

} // namespace sample
