#include <lowspot/terrain/depression_tree.hpp>

namespace lowspot::terrain {

DepressionTree build_depression_tree(const Ground& ground) {
  std::vector<relief::OpenFace> open_faces;
  for (const EdgeFace& edge : ground.edges)
    if (edge.open) open_faces.push_back({edge.cell, static_cast<int>(edge.side)});
  return relief::build_depression_tree(
      {ground.grid, ground.active, ground.elevation, ground.crest_x, ground.crest_y, open_faces});
}

} // namespace lowspot::terrain
