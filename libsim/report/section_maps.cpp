// The maps, before and after on one scale.
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/sections.hpp>

namespace lowspot::report {

std::string maps_section(const Page& page) {
  std::string said = "Maps of the yard, one column a design. ";
  for (const results::DesignRecord& design : page.comparison().designs)
    said += design.name + ": " + hours_caption(design) + "; " + depth_caption(design, page.units()) + ". ";
  std::string html = "<figure class=\"paper\"><div class=\"scroll\" tabindex=\"0\" role=\"group\" "
                     "aria-label=\"Maps\"><img class=\"only-screen\" alt=\"";
  html += escape(said) + "\" src=\"" + png_source(page.pictures.before_after) + "\">";
  // On paper both rows would be too small to read: the depths stand in the tables.
  html += "<img class=\"only-paper\" alt=\"" + escape(said) + "\" src=\"" +
          png_source(page.pictures.standing_hours) + "\"></div>";
  html +=
      "<figcaption>All panels share one scale. The black line is where water stands just as long as the "
      "target "
      "allows: inside it, longer. The same maps lie beside this page in the folder maps, as pictures and for "
      "print.</figcaption></figure>\n";
  return html;
}

} // namespace lowspot::report
