// What every writer of JSON here needs.
#pragma once
#include <cmath>
#include <string>

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

// As it is written out. A byte that is no UTF-8, such as one of a file's name, becomes U+FFFD.
template <class AnyJson>
std::string json_text(const AnyJson& json) {
  return json.dump(2, ' ', false, AnyJson::error_handler_t::replace);
}

// [x, y] in metres.
inline Json json_point(const Point& at) {
  return Json::array({at.x, at.y});
}

} // namespace lowspot::results
