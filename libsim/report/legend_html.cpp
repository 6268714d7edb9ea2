#include <lowspot/report/legend_html.hpp>

#include <lowspot/report/html.hpp>

namespace lowspot::report {

std::string legend_html(const Scale& scale, const std::string& id) {
  const Unit plain{1, ""};
  std::string html =
      "<p class=\"legend\"" + (id.empty() ? "" : " id=\"" + id + "\"") + ">" + escape(scale.title) + ": ";
  for (std::size_t k = 0; k < scale.bounds.size(); ++k) {
    html +=
        "<span><i style=\"background:" + hex(scale.colors[k]) + "\"></i>" + figure(scale.bounds[k], plain, 3);
    html += k + 1 < scale.bounds.size() ? "\u2013" + figure(scale.bounds[k + 1], plain, 3) : " and more";
    html += "</span> ";
  }
  return html + "</p>\n";
}

} // namespace lowspot::report
