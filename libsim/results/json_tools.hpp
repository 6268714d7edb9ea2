// What every writer of JSON here needs.
#pragma once
#include <cmath>

#include <nlohmann/json.hpp>

#include <lowspot/base/geometry.hpp>

namespace lowspot::results {

using Json = nlohmann::ordered_json; // keys in the order they were written

// An array even when there is nothing to list.
template <class Items, class Write>
Json array_of(const Items& items, Write write) {
  Json list = Json::array();
  for (const auto& item : items) list.push_back(write(item));
  return list;
}

// Null where there is none: JSON has no other word for it.
inline Json finite(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

// [x, y] in metres.
inline Json json_point(const Point& at) {
  return Json::array({at.x, at.y});
}

} // namespace lowspot::results
