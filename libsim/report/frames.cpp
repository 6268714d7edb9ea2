#include <lowspot/report/frames.hpp>

#include <algorithm>
#include <cmath>

#include <zlib.h>

#include <lowspot/base/error.hpp>
#include <lowspot/report/html.hpp>

namespace lowspot::report {
namespace {

double deepest(const results::Comparison& comparison, FrameMap map) {
  float most = 0;
  for (const auto& design : comparison.designs)
    for (const auto& frame : design.frames)
      for (const float value : frame.*map)
        if (std::isfinite(value)) most = std::max(most, value);
  return most;
}

// Evenly thinned, the first and the last kept.
std::vector<double> chosen_times(const results::DesignRecord& design, int most) {
  const std::size_t count = design.frames.size();
  std::vector<double> times;
  const std::size_t kept = std::min<std::size_t>(count, static_cast<std::size_t>(most));
  for (std::size_t k = 0; k < kept; ++k)
    times.push_back(design.frames[kept > 1 ? k * (count - 1) / (kept - 1) : 0].time);
  return times;
}

// One frame as bytes, `block` cells a side averaged into one.
std::vector<std::uint8_t> bytes_of(const std::vector<float>& values, const Grid& grid, const Mask& active,
                                   int block, const PackedFrames& packed) {
  std::vector<std::uint8_t> bytes;
  for (int row = 0; row < packed.rows; ++row)
    for (int column = 0; column < packed.columns; ++column) {
      double sum = 0;
      int count = 0;
      for (int j = grid.ny - 1 - row * block; j > std::max(-1, grid.ny - 1 - (row + 1) * block); --j)
        for (int i = column * block; i < std::min(grid.nx, (column + 1) * block); ++i) {
          const std::size_t cell = grid.index(i, j);
          if (!active[cell] || !std::isfinite(values[cell])) continue;
          sum += values[cell];
          ++count;
        }
      const double share = count > 0 && packed.top > 0 ? sum / count / packed.top : 0;
      bytes.push_back(static_cast<std::uint8_t>(std::lround(255 * std::clamp(share, 0.0, 1.0))));
    }
  return bytes;
}

} // namespace

const results::Frame* frame_near(const results::DesignRecord& design, double time) {
  const auto nearest =
      std::min_element(design.frames.begin(), design.frames.end(), [&](const auto& a, const auto& b) {
        return std::abs(a.time - time) < std::abs(b.time - time);
      });
  return nearest == design.frames.end() ? nullptr : &*nearest;
}

std::string deflate_raw(const std::vector<std::uint8_t>& bytes) {
  z_stream stream{};
  // A negative window means raw deflate: no header, no checksum.
  if (deflateInit2(&stream, 6, Z_DEFLATED, -15, 9, Z_DEFAULT_STRATEGY) != Z_OK)
    throw NumericsError("frames could not be packed: out of memory");
  std::string packed(deflateBound(&stream, bytes.size()), '\0');
  stream.next_in = const_cast<Bytef*>(bytes.data());
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_out = static_cast<uInt>(packed.size());
  const int status = deflate(&stream, Z_FINISH);
  packed.resize(stream.total_out);
  deflateEnd(&stream);
  if (status != Z_STREAM_END) throw NumericsError("frames could not be packed");
  return packed;
}

PackedFrames pack_frames(const results::Comparison& comparison, int most_cells, int most_frames,
                         FrameMap map) {
  PackedFrames packed;
  if (comparison.designs.empty()) return packed;
  const Grid& grid = comparison.grid;
  const int longest = std::max(grid.nx, grid.ny);
  const int block = std::max(1, (longest + most_cells - 1) / most_cells);
  packed.columns = (grid.nx + block - 1) / block;
  packed.rows = (grid.ny + block - 1) / block;
  packed.wide = static_cast<double>(packed.columns) * block / grid.nx;
  packed.high = static_cast<double>(packed.rows) * block / grid.ny;
  packed.top = deepest(comparison, map);
  packed.times = chosen_times(comparison.designs.front(), most_frames);
  const std::size_t cells = static_cast<std::size_t>(packed.columns) * packed.rows;
  for (const auto& design : comparison.designs) {
    std::vector<std::uint8_t> stream, before(cells, 0);
    for (const double time : packed.times) {
      const results::Frame* frame = frame_near(design, time);
      std::vector<std::uint8_t> now = frame != nullptr && (frame->*map).size() == grid.cells()
                                          ? bytes_of(frame->*map, grid, comparison.active, block, packed)
                                          : std::vector<std::uint8_t>(cells, 0);
      for (std::size_t k = 0; k < cells; ++k) stream.push_back(static_cast<std::uint8_t>(now[k] - before[k]));
      before = std::move(now);
    }
    packed.designs.push_back(base64(deflate_raw(stream)));
  }
  return packed;
}

} // namespace lowspot::report
