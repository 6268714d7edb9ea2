#include "catch.hpp"

#include <cmath>
#include <unistd.h>

#include "journeys/browser.hpp"

using journey::fs::path;

namespace {

const std::string yard_name = "Gr\u00f6n \"Hof\" <b>& S\u00f6hne</b> \U0001F33F";
const std::string bed_name = "@bed 'x' \"y\" <script>alert(1)</script>";
const std::string outlet_name = "+out </script><i>";

// A small yard whose every name is hard to write down, with so many designs.
path awkward_yard(const std::string& name, int designs) {
  const path folder = journey::fresh_folder(name);
  std::string site =
      "[site]\nname='''" + yard_name +
      "'''\nunits='m'\nrectangle=[0,0,12,8]\ncell='0.5 m'\n[ground]\nlevels='levels.csv'\n"
      "[[soil]]\nname='s'\ntopsoil={texture='silt loam',depth='0.2 m'}\ntight_layer={conductivity='0.5 "
      "mm/hr'}\n"
      "[[area]]\nname='''" +
      bed_name +
      "'''\nkind='mulched bed'\nrectangle=[3,2,6,4]\nplants={kind='shrubs',root_depth='0.3 m'}\n"
      "[[building]]\nname='house'\nrectangle=[0,7,4,1]\n"
      "[storm]\npattern='blocks'\nblocks=[['1 hr','25 mm/hr']]\ndry='12 hr'\nmonth='May'\n"
      "[target]\nareas=['''" +
      bed_name + "''']\n";
  for (int d = 1; d <= designs; ++d)
    site += "[[design]]\nname='''=design " + std::to_string(d) +
            " \U0001F33F <img src=x onerror=alert(1)> with a name that is long enough to be cut on paper'''\n"
            "[[design.run]]\nname='''-leg <u>'''\npath=[[4,4],[12,4]]\npipe='4 in corrugated, slotted'\n"
            "trench={width='0.3 m',depth='0.4 m'}\nfall='1 %'\nstone='No. 57, rounded, washed'\n"
            "cap={kind='open stone'}\nto='''" +
            outlet_name + "'''\n[[design.outlet]]\nname='''" + outlet_name +
            "'''\nkind='daylight'\nat=[12,4]\n";
  journey::write(folder / "site.toml", site);
  std::string levels = "x,y,elevation\n";
  for (int x = 0; x <= 12; x += 2)
    for (int y = 0; y <= 8; y += 2)
      levels += std::to_string(x) + "," + std::to_string(y) + "," +
                std::to_string(10 - 0.02 * x + (std::hypot(x - 6.0, y - 4.0) < 2.5 ? -0.08 : 0.0)) + "\n";
  journey::write(folder / "levels.csv", levels);
  return folder;
}

path results_of(const path& folder) {
  const journey::Answer answer =
      journey::run({"compare", folder.string(), "--out", (folder / "out").string(), "--quiet"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  return folder / "out";
}

} // namespace

TEST_CASE("names come out as typed in every file, and no spreadsheet takes them for formulas") {
  const path out = results_of(awkward_yard("names", 1));
  const auto summary = journey::json_file(out / "summary.json");
  CHECK(summary["site"] == yard_name);
  CHECK(summary["designs"][0]["areas"][0]["name"] == bed_name);
  for (const char* name :
       {"report.html", "crew.html", "homeowner.html", "permit.html", "takeoff.html", "cutsheet.html"}) {
    INFO(name);
    const std::string html = journey::content(out / name);
    CHECK(html.find("<script>alert") == std::string::npos);
    CHECK(html.find("<img src=x") == std::string::npos);
    CHECK(html.find("<b>&") == std::string::npos);
    CHECK(html.find("</script><i>") == std::string::npos);
  }
  CHECK_THAT(journey::content(out / "report.html"),
             ContainsSubstring("Gr\u00f6n &quot;Hof&quot; &lt;b&gt;&amp; S\u00f6hne&lt;/b&gt; \U0001F33F"));
  for (const char* name : {"hydrographs.csv", "cutsheet.csv", "takeoff.csv"}) {
    INFO(name);
    const std::string table = journey::content(out / name);
    std::string before = "\n";
    for (std::size_t at = 0; at < table.size(); ++at) {
      const bool starts = at == 0 || table[at - 1] == '\n' || table[at - 1] == ',' ||
                          (table[at - 1] == '"' && (at < 2 || table[at - 2] == ',' || table[at - 2] == '\n'));
      const bool figure = at + 1 < table.size() && (std::isdigit(table[at + 1]) || table[at + 1] == '.');
      if (starts)
        CHECK_FALSE(
            (std::string("=+@").find(table[at]) != std::string::npos || (table[at] == '-' && !figure)));
    }
  }
  for (const auto& entry : journey::fs::recursive_directory_iterator(out))
    for (const char letter : entry.path().filename().string())
      CHECK((std::isalnum(static_cast<unsigned char>(letter)) ||
             std::string("-_.").find(letter) != std::string::npos));
}

TEST_CASE("a reader plays the storm, swipes between designs and meets no error") {
  if (!journey::browser_here()) {
    WARN("chromium is not installed: not tried");
    return;
  }
  const path out = results_of(awkward_yard("browser", 2));
  const std::string html = journey::content(out / "report.html");
  for (const char* address : {"http:", "https:", "url(", "@import", "src=\"/"})
    CHECK(html.find(address) == std::string::npos);
  const auto heard = journey::ask_page(out / "report.html", R"js(
    const id = name => document.getElementById(name), fire = (e, t) => e.dispatchEvent(new Event(t, {bubbles: true}));
    const coloured = canvas => { const d = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data;
      let n = 0; for (let k = 3; k < d.length; k += 4) n += d[k] > 0; return n / (d.length / 4); };
    const canvas = document.querySelector('#player-stage canvas'), slider = id('player-slider');
    say('playing', !id('player-stage').hidden);
    say('wet', coloured(canvas));
    slider.value = 0; fire(slider, 'input'); say('dry', coloured(canvas)); say('first', id('player-time').textContent);
    slider.value = slider.max; fire(slider, 'input'); say('last', id('player-time').textContent);
    const layer = id('player-layer'); say('layers', layer ? layer.options.length : 0);
    if (layer) { layer.value = 1; fire(layer, 'change'); await wait(600); say('perched', coloured(canvas)); }
    say('swiping', !id('swipe-root').hidden);
    say('left', id('swipe-left-name').textContent); say('right', id('swipe-right-name').textContent);
    const first = id('swipe-right-water').src;
    id('swipe-right').value = 0; fire(id('swipe-right'), 'change');
    say('same', id('swipe-right-water').src === id('swipe-left-water').src); say('changed', id('swipe-right-water').src !== first);
    id('swipe-at').value = 20; fire(id('swipe-at'), 'input');
    say('at', getComputedStyle(document.querySelector('.swipe-stage')).getPropertyValue('--at'));
    say('spoken', id('swipe-at').getAttribute('aria-valuetext'));
    say('unnamed', [...document.querySelectorAll('button,input,select,canvas,svg,img')].filter(e =>
      !(e.closest('[aria-hidden=true]') || e.getAttribute('aria-label') || e.getAttribute('alt') !== null || (e.labels && e.labels.length) || e.textContent.trim())).length);
    say('wide', document.documentElement.scrollWidth - document.documentElement.clientWidth);
    say('outside', performance.getEntriesByType('resource').filter(e => !e.name.startsWith('data:') && !e.name.startsWith('file:')).length);
  )js");
  INFO(heard.dump(2));
  CHECK(heard["errors"].empty());
  CHECK(heard["playing"] == true);
  CHECK(heard["wet"].get<double>() > 0.001);
  CHECK(heard["dry"].get<double>() == 0.0);
  CHECK(heard["first"] != heard["last"]);
  CHECK(heard["swiping"] == true);
  CHECK(heard["left"] == "as is");
  CHECK(heard["right"].get<std::string>().rfind("=design", 0) == 0);
  CHECK(heard["same"] == true);
  CHECK(heard["changed"] == true);
  CHECK(heard["at"] == "20%");
  CHECK_THAT(heard["spoken"].get<std::string>(), ContainsSubstring("20 % as is"));
  CHECK(heard["unnamed"] == 0);
  CHECK(heard["wide"] == 0);
  CHECK(heard["outside"] == 0);
}

TEST_CASE("each page for people prints on one sheet of letter and of A4") {
  if (!journey::browser_here()) {
    WARN("chromium is not installed: not tried");
    return;
  }
  const path out = results_of(awkward_yard("printed", 10));
  for (const char* page : {"crew.html", "homeowner.html", "permit.html"})
    for (const char* paper : {"letter", "A4"}) {
      INFO(page << " on " << paper);
      CHECK(journey::printed_pages(out / page, paper) == 1);
    }
  CHECK(journey::printed_pages(out / "report.html", "A4") > 1); // the count can tell
}

// Two lines, a pump, a channel and a crossing, all with long names.
path busy_yard(const std::string& name) {
  const path folder = awkward_yard(name, 0);
  std::string site = journey::content(folder / "site.toml");
  site.insert(site.find("[storm]"), "[[utility]]\nname='irrigation line along the old garden "
                                    "wall'\npath=[[0,1.5],[12,1.5]]\ndepth='200 mm'\n");
  const std::string trench =
      "trench={width='0.3 m',depth='0.4 m'}\nfall='1 %'\nstone='No. 57, rounded, washed'\n"
      "fabric={kind='nonwoven 6 oz',clogging=1}\ncap={kind='mulch over stone',depth='50 mm'}\n";
  site +=
      "[[design]]\nname='two lines under mulch to the ditch and to a pump, with a channel along the "
      "terrace'\n"
      "[[design.run]]\nname='collector along the terrace and the rhododendron bed'\npath=[[3,4],[8,4]]\n"
      "pipe='4 in corrugated, slotted'\n" +
      trench +
      "to='tee under the old pear tree'\n[[design.fitting]]\nname='tee under the old pear tree'\nat=[8,4]\n"
      "cleanout='100 mm'\n[[design.run]]\nname='carrier to the ditch along the lane'\npath=[[8,4],[12,4]]\n"
      "pipe='4 in corrugated, solid'\nfall='1 %'\nfrom='tee under the old pear tree'\nto='ditch outlet by "
      "the lane'\n"
      "[[design.outlet]]\nname='ditch outlet by the lane'\nkind='daylight'\nat=[12,4]\n"
      "[[design.run]]\nname='second line in the lawn behind the shed'\npath=[[2,2],[7,1]]\n"
      "pipe='3 in corrugated, slotted'\n" +
      trench +
      "to='pump pit'\n[[design.outlet]]\nname='pump pit'\nkind='pump'\nat=[7,1]\nrate='1.5 L/s'\n"
      "diameter='450 mm'\ndepth='900 mm'\ndischarge=[11.5,1]\n"
      "[[design.channel]]\nname='channel at the terrace door'\npath=[[4,6.5],[8,5]]\nwidth='100 "
      "mm'\ndepth='100 mm'\n"
      "to='tee under the old pear tree'\n";
  journey::write(folder / "site.toml", site);
  return folder;
}

TEST_CASE("much to build, with long names, still prints on one sheet a reader, with all there is to order") {
  if (!journey::browser_here()) {
    WARN("chromium is not installed: not tried");
    return;
  }
  const path out = results_of(busy_yard("busy"));
  for (const char* page : {"crew.html", "homeowner.html", "permit.html"})
    for (const char* paper : {"letter", "A4"}) {
      INFO(page << " on " << paper);
      CHECK(journey::printed_pages(out / page, paper) == 1);
    }
  CHECK_THAT(journey::content(out / "crew.html"),
             ContainsSubstring("No. 57, rounded, washed: ") && !ContainsSubstring("more: see takeoff"));
}

// Three runs that meet, three cables across them, a grate and two downspouts.
path crowded_yard(const std::string& name) {
  const path folder = awkward_yard(name, 0);
  std::string site = journey::content(folder / "site.toml");
  site.insert(site.find("[storm]"),
              R"toml(downspouts=[{name='west spout',at=[0.5,6.9],roof='20 m2',to='ground'},
{name='east spout',at=[3.8,6.9],roof='20 m2',to='ground'}]
[[utility]]
name='gas service to the house'
path=[[5,0],[5,8]]
depth='450 mm'
[[utility]]
name='irrigation main'
path=[[3,8],[11,0]]
depth='250 mm'
[[utility]]
name='power to the garage'
path=[[10,0],[10,8]]
depth='600 mm'
)toml");
  site += R"toml([[design]]
name='roofs and bed to the lane'
[[design.run]]
name='west line'
path=[[1,6.5],[3,6],[8,4]]
pipe='4 in PVC sewer and drain, solid'
fall='1 %'
to='junction'
[[design.run]]
name='bed drain'
path=[[3,2],[6,2.5],[8,4]]
pipe='4 in PVC sewer and drain, slotted'
trench={width='0.3 m',depth='0.4 m'}
fall='1 %'
stone='No. 57, crushed, washed'
fabric={kind='nonwoven 4 oz',clogging=1}
cap={kind='sod',depth='100 mm'}
to='junction'
[[design.run]]
name='east line'
path=[[6,7.5],[9,7],[10.5,5.5],[8,4]]
pipe='4 in PVC sewer and drain, solid'
fall='0.8 %'
to='junction'
[[design.fitting]]
name='junction'
at=[8,4]
cleanout='100 mm'
[[design.run]]
name='main'
path=[[8,4],[12,4]]
pipe='6 in PVC SDR 35, solid'
fall='1 %'
from='junction'
to='lane outlet'
[[design.outlet]]
name='lane outlet'
kind='daylight'
at=[12,4]
[[design.inlet]]
name='terrace grate'
at=[9.2,7.2]
size='300 mm'
sump='150 mm'
to='east line'
[[design.downspout]]
name='west spout'
to='west line'
[[design.downspout]]
name='east spout'
to='east line'
)toml";
  journey::write(folder / "site.toml", site);
  return folder;
}

TEST_CASE("many runs that cross many cables: the crew's page prints on one sheet all the same") {
  if (!journey::browser_here()) {
    WARN("chromium is not installed: not tried");
    return;
  }
  const path folder = crowded_yard("crowded");
  const path out = results_of(folder);
  // Its four runs are short: two share a sheet, or one and what is read first.
  const path sheet = journey::fresh_folder("crowded-sheet");
  REQUIRE(journey::run(
              {"cutsheet", folder.string(), "--design", "roofs and bed to the lane", "--out", sheet.string()})
              .code == 0);
  CHECK(journey::printed_pages(sheet / "cutsheet.html", "A4") <= 3);
  CHECK(journey::printed_pages(sheet / "cutsheet.html", "letter") <= 4);
  for (const char* paper : {"letter", "A4"}) {
    INFO(paper);
    CHECK(journey::printed_pages(out / "crew.html", paper) == 1);
  }
}

TEST_CASE("the demo's report prints on six pages of letter and of A4 at most") {
  if (!journey::browser_here()) {
    WARN("chromium is not installed: not tried");
    return;
  }
  const path out = journey::fresh_folder("report-printed");
  const journey::Answer answer = journey::run(
      {"compare", LOWSPOT_SOURCE_DATA "/demo", "--cell", "4 ft", "--out", out.string(), "--quiet"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  for (const char* paper : {"letter", "A4"}) {
    INFO(paper);
    CHECK(journey::printed_pages(out / "report.html", paper) <= 6);
    CHECK(journey::printed_pages(out / "report.html", paper) > 2);
  }
}

TEST_CASE("the crew's page of a design of three runs prints on one sheet of letter") {
  if (!journey::browser_here()) {
    WARN("chromium is not installed: not tried");
    return;
  }
  const path out = journey::fresh_folder("crew-printed");
  const journey::Answer answer =
      journey::run({"compare", LOWSPOT_SOURCE_DATA "/demo", "--design", "3 in under soil", "--cell", "2 ft",
                    "--plausible", "0", "--out", out.string(), "--quiet"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  for (const char* paper : {"letter", "A4"}) {
    INFO(paper);
    CHECK(journey::printed_pages(out / "crew.html", paper) == 1);
  }
}

TEST_CASE("a yard with no design has no map to swipe and no page for a crew") {
  const path out = results_of(awkward_yard("bare", 0));
  CHECK(journey::content(out / "report.html").find("swipe-data") == std::string::npos);
  CHECK_FALSE(journey::fs::exists(out / "crew.html"));
  CHECK(journey::fs::exists(out / "homeowner.html"));
}

TEST_CASE("a new run takes away what no longer holds") {
  const path folder = awkward_yard("again", 1);
  REQUIRE(journey::run({"compare", folder.string(), "--quiet", "--gis"}).code == 0);
  const path out = folder / "results";
  REQUIRE(journey::fs::exists(out / "crew.html"));
  REQUIRE(journey::fs::exists(out / "gis/runs.geojson"));
  std::string site = journey::content(folder / "site.toml");
  journey::write(folder / "site.toml", site.substr(0, site.find("[[design]]")));
  REQUIRE(journey::run({"compare", folder.string(), "--quiet"}).code == 0);
  CHECK_FALSE(journey::fs::exists(out / "crew.html"));
  CHECK_FALSE(journey::fs::exists(out / "takeoff.csv"));
  CHECK_FALSE(journey::fs::exists(out / "gis/runs.geojson"));
  CHECK(journey::fs::exists(out / "homeowner.html"));
}

TEST_CASE("maps for a GIS lie where the coordinates say") {
  if (std::system("command -v gdalinfo >/dev/null 2>&1") != 0) {
    WARN("gdalinfo is not installed: not tried");
    return;
  }
  const path folder = awkward_yard("gis", 1);
  std::string site = journey::content(folder / "site.toml");
  site.insert(site.find("cell="), "crs='EPSG:32616'\n");
  journey::write(folder / "site.toml", site);
  const journey::Answer answer = journey::run({"compare", folder.string(), "--quiet", "--gis"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const path out = folder / "results";
  const auto said = [&](const std::string& what) {
    const path file = folder / "said";
    std::system((what + " >" + journey::quoted(file.string()) + " 2>&1").c_str());
    return journey::content(file);
  };
  for (const std::string& place :
       {"NETCDF:" + journey::quoted((out / "results.nc").string()) + ":ground_elevation",
        journey::quoted((out / "gis/standing_hours_as_is.tif").string())}) {
    const std::string text = said("gdalinfo " + place);
    INFO(text);
    CHECK_THAT(text, ContainsSubstring("UTM zone 16N") && ContainsSubstring("32616") &&
                         ContainsSubstring("Size is 24, 16") && ContainsSubstring("Pixel Size = (0.5"));
  }
  const std::string areas = journey::content(out / "gis/areas.geojson");
  CHECK(nlohmann::json::parse(areas)["features"][0]["properties"]["name"] == bed_name);
  CHECK_THAT(areas, ContainsSubstring("32616"));
}
