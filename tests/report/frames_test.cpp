#include "catch.hpp"

#include <algorithm>
#include <cmath>

#include <zlib.h>

#include <lowspot/report/frames.hpp>

#include "results/sample_comparison.hpp"

using namespace lowspot::report;

namespace {
std::string from_base64(const std::string& text) {
  const std::string letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string bytes;
  unsigned group = 0;
  int bits = 0;
  for (const char letter : text) {
    if (letter == '=') break;
    group = group << 6 | static_cast<unsigned>(letters.find(letter));
    bits += 6;
    if (bits >= 8) bytes += static_cast<char>(group >> (bits -= 8) & 255u);
  }
  return bytes;
}

std::vector<std::uint8_t> inflate_raw(const std::string& packed, std::size_t expected) {
  std::vector<std::uint8_t> bytes(expected + 1);
  z_stream stream{};
  REQUIRE(inflateInit2(&stream, -15) == Z_OK);
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(packed.data()));
  stream.avail_in = static_cast<uInt>(packed.size());
  stream.next_out = bytes.data();
  stream.avail_out = static_cast<uInt>(bytes.size());
  CHECK(inflate(&stream, Z_FINISH) == Z_STREAM_END);
  bytes.resize(stream.total_out);
  inflateEnd(&stream);
  return bytes;
}
} // namespace

TEST_CASE("unpacked frames are the depths, to half a step of the byte") {
  const auto all = sample::comparison();
  const PackedFrames packed = pack_frames(all);
  REQUIRE(packed.columns == 60);
  REQUIRE(packed.rows == 40);
  REQUIRE(packed.times.size() == all.designs[0].frames.size());
  const std::size_t cells = 60 * 40;
  for (std::size_t d = 0; d < 2; ++d) {
    auto bytes = inflate_raw(from_base64(packed.designs[d]), cells * packed.times.size());
    REQUIRE(bytes.size() == cells * packed.times.size());
    for (std::size_t k = cells; k < bytes.size(); ++k)
      bytes[k] = static_cast<std::uint8_t>(bytes[k] + bytes[k - cells]);
    double worst = 0;
    for (std::size_t k = 0; k < bytes.size(); ++k) {
      const std::size_t row = k % cells / 60, column = k % 60;
      const double depth = all.designs[d].frames[k / cells].depth[(39 - row) * 60 + column];
      worst = std::max(worst, std::abs(bytes[k] / 255.0 * packed.top - depth));
    }
    CHECK(worst <= packed.top / 255 / 2 * (1 + 1e-6));
  }
}

TEST_CASE("large grounds are averaged and long runs thinned, ends kept") {
  const auto all = sample::comparison();
  const PackedFrames packed = pack_frames(all, 20, 5);
  CHECK(packed.columns == 20);
  CHECK(packed.rows == 14); // 40 rows in blocks of three
  CHECK(packed.times.size() == 5);
  CHECK(packed.times.front() == all.designs[0].frames.front().time);
  CHECK(packed.times.back() == all.designs[0].frames.back().time);
}

TEST_CASE("the nearest frame of another design is shown") {
  const auto all = sample::comparison();
  CHECK(frame_near(all.designs[1], 3700)->time == 3600);
  CHECK(frame_near({}, 0) == nullptr);
  CHECK(pack_frames({}).times.empty());
}
