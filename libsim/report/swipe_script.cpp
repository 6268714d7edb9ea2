#include <lowspot/report/swipe_script.hpp>

namespace lowspot::report {

// The range input lies over the whole map: a pointer or the arrow keys move it, and nothing else is needed.
std::string_view swipe_script() {
  return R"js((() => {
"use strict";
const part = id => document.getElementById("swipe" + id), root = part("-root"), holder = part("-data");
if (!root || !holder) return;
const designs = JSON.parse(holder.textContent).designs, what = part("-what"), at = part("-at");
const stage = root.querySelector(".swipe-stage");
const show = () => {
  const map = Number(what.value);
  for (const side of ["left", "right"]) {
    const design = designs[Number(part("-" + side).value)];
    part("-" + side + "-name").textContent = design.name;
    part("-" + side + "-says").textContent = design.says[map];
    part("-" + side + "-water").src = design.water[map];
    part("-" + side + "-works").src = design.works;
    const ground = part("-" + side + "-ground"); // of a design that shapes it; else the yard's lies below
    ground.hidden = !design.ground;
    if (design.ground) ground.src = design.ground;
  }
  root.querySelectorAll(".legend").forEach((legend, k) => { legend.hidden = k !== map; });
  move();
};
const move = () => {
  const share = Number(at.value);
  stage.style.setProperty("--at", share + "%");
  at.setAttribute("aria-valuetext", share + " % " + part("-left-name").textContent + ", " + (100 - share) +
                  " % " + part("-right-name").textContent);
};
for (const id of ["-left", "-right", "-what"]) part(id).addEventListener("change", show);
at.addEventListener("input", move);
root.hidden = false;
part("-off").hidden = true;
show();
})();
)js";
}

} // namespace lowspot::report
