// Maps over time packed small enough to travel in a page.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>

namespace lowspot::report {

// Which map of a frame: the water on the ground or in it.
using FrameMap = std::vector<float> results::Frame::*;

// Rows from the north, bytes 0 (dry) to 255 (`top` metres).
struct PackedFrames {
  int columns = 0, rows = 0; // blocks of cells, to the east and to the south
  double top = 0;            // depth of value 255 [m]
  double wide = 1, high = 1; // of the frames, over the grid: the last block may reach beyond it
  std::vector<double> times; // s
  std::vector<std::string>
      designs; // per design: raw deflate of each frame less the one before (modulo 256), base64
};

// Frames of all designs at the frame times of the first, at most `most_frames` of them, averaged to at most
// `most_cells` a side. Figures are never taken from these: they are rounded.
PackedFrames pack_frames(const results::Comparison& comparison, int most_cells = 200, int most_frames = 160,
                         FrameMap map = &results::Frame::depth);

// The frame of a design nearest to a time; null when it has none.
const results::Frame* frame_near(const results::DesignRecord& design, double time);

// Compressed without header or checksum (RFC 1951).
std::string deflate_raw(const std::vector<std::uint8_t>& bytes);

} // namespace lowspot::report
