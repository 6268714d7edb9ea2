#include <lowspot/report/page_script.hpp>

namespace lowspot::report {

// Frames are unpacked once; a picture is drawn bilinear between cells and then coloured by class.
std::string_view page_script() {
  return R"js((() => {
"use strict";
const root = document.getElementById("player-stage"), holder = document.getElementById("player-data");
if (!root || !holder || !("DecompressionStream" in window)) return;
const data = JSON.parse(holder.textContent), choice = document.getElementById("player-layer");
const slider = document.getElementById("player-slider"), time = document.getElementById("player-time");
const button = document.getElementById("player-play"), canvases = [...root.querySelectorAll("canvas")];
const fineness = layer => Math.max(1, Math.min(8, Math.floor(600 / Math.max(layer.columns, layer.rows))));
function colors(text) {
  const palette = new Uint8ClampedArray(1024);
  for (let k = 0; k < 1024; k++) palette[k] = parseInt(text.substr(2 * k, 2), 16);
  return palette;
}

async function unpack(text, n) {
  const packed = Uint8Array.from(atob(text), letter => letter.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const frames = new Uint8Array(await new Response(stream).arrayBuffer());
  for (let k = n; k < frames.length; k++) frames[k] = frames[k] + frames[k - n] & 255;
  return frames;
}
function paint(canvas, layer, frames, at) {
  const fine = fineness(layer), n = layer.columns * layer.rows, palette = layer.colors;
  const width = layer.columns * fine, height = layer.rows * fine;
  if (canvas.width !== width || canvas.height !== height) { canvas.width = width; canvas.height = height; }
  canvas.style.transform = `scale(${layer.wide},${layer.high})`; // the last block may reach beyond the yard
  const context = canvas.getContext("2d"), image = context.createImageData(width, height), out = image.data;
  const value = (i, j) => frames[at * n + Math.max(0, Math.min(layer.rows - 1, j)) * layer.columns +
                                 Math.max(0, Math.min(layer.columns - 1, i))];
  for (let row = 0, p = 0; row < height; row++) {
    const v = (row + 0.5) / fine - 0.5, j = Math.floor(v), b = v - j;
    for (let column = 0; column < width; column++, p += 4) {
      const u = (column + 0.5) / fine - 0.5, i = Math.floor(u), a = u - i;
      const mean = (1 - b) * ((1 - a) * value(i, j) + a * value(i + 1, j)) +
                   b * ((1 - a) * value(i, j + 1) + a * value(i + 1, j + 1));
      const c = 4 * Math.round(mean);
      out[p] = palette[c]; out[p + 1] = palette[c + 1]; out[p + 2] = palette[c + 2]; out[p + 3] = palette[c + 3];
    }
  }
  context.putImageData(image, 0, 0);
}
// A layer is unpacked when it is first asked for.
async function open(k) {
  const layer = data.layers[k];
  if (!layer.unpacked) {
    layer.colors = colors(layer.palette);
    layer.unpacked = await Promise.all(layer.frames.map(text => unpack(text, layer.columns * layer.rows)));
  }
  return layer;
}
open(0).then(first => {
  let layer = first;
  root.hidden = false;
  document.getElementById("player-off").hidden = true;
  const show = () => {
    const at = Number(slider.value);
    time.textContent = data.times[at];
    slider.setAttribute("aria-valuetext", data.times[at]);
    canvases.forEach((canvas, k) => {
      paint(canvas, layer, layer.unpacked[k], at);
      document.getElementById("standing-" + k).textContent = data.standing[k][at];
    });
  };
  let clock = 0;
  const stop = () => { clearInterval(clock); clock = 0; button.textContent = "Play"; };
  button.addEventListener("click", () => {
    if (clock) return stop();
    if (Number(slider.value) >= Number(slider.max)) slider.value = 0;
    button.textContent = "Pause";
    clock = setInterval(() => {
      if (Number(slider.value) >= Number(slider.max)) return stop();
      slider.value = Number(slider.value) + 1;
      show();
    }, matchMedia("(prefers-reduced-motion: reduce)").matches ? 700 : 180);
  });
  const legends = () => root.querySelectorAll(".legend").forEach((legend, k) => {
    legend.hidden = k !== data.layers.indexOf(layer);
  });
  if (choice) choice.addEventListener("change", async () => {
    layer = await open(Number(choice.value));
    legends();
    show();
  });
  legends();
  slider.addEventListener("input", () => { stop(); show(); });
  // The page opens where the most water stands to be seen: as the rain ends.
  const end = data.times.findIndex(text => text.endsWith("after the rain"));
  slider.value = end > 0 ? end - 1 : 0;
  show();
}, () => {});
})();
)js";
}

} // namespace lowspot::report
