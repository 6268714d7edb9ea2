#include <lowspot/study/ailments.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/geometry.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/study/clog.hpp>
#include <lowspot/study/draws.hpp>
#include <lowspot/study/figures.hpp>
#include <lowspot/yard/drain_layout.hpp>

namespace lowspot::study {
namespace {

constexpr double blocked_head = 10; // m: no yard lifts such a lid

// Every conductivity at `times` the low end of its band. Of one that is a single figure nobody has said how
// low it could be: a third of it stands for the low end.
constexpr double low_end_of_a_figure = 1.0 / 3;

site::Site tighter(const site::Site& site, double times) {
  const std::vector<UncertainInput> inputs = find_conductivities(site);
  std::vector<double> values;
  for (const UncertainInput& input : inputs)
    values.push_back(times *
                     (input.band.is_band() ? input.band.low : low_end_of_a_figure * input.band.likely));
  return with_values(site, inputs, values);
}

// What tighter() did, by what the site file gives.
std::string tighter_words(const site::Site& site, bool severe) {
  const std::vector<UncertainInput> inputs = find_conductivities(site);
  const auto bands = static_cast<std::size_t>(std::count_if(
      inputs.begin(), inputs.end(), [](const UncertainInput& one) { return one.band.is_band(); }));
  if (bands == 0)
    return severe ? "a ninth of the conductivity in the site file"
                  : "a third of the conductivity in the site file";
  std::string text = severe ? "a third of the low end" : "at the low end of its bands";
  if (bands < inputs.size())
    text += severe ? ", a ninth where there is one figure" : ", a third where there is one figure";
  return text;
}

// The run to the outlet sags half way along by a depth; false where there is no such run.
bool add_belly(const site::Site& site, site::Design& design, const terrain::Ground& ground, double share) {
  const std::vector<std::string> last = runs_to_outlets(&design);
  const yard::ResolvedDrain resolved =
      yard::resolve_drain(site, design, [&](Point at) { return terrain::elevation_at(ground, at); });
  for (std::size_t k = 0; k < design.runs.size(); ++k) {
    site::Run& run = design.runs[k];
    if (last.empty() || run.name != last.front()) continue;
    const auto built = std::find_if(resolved.layout.runs.begin(), resolved.layout.runs.end(),
                                    [&](const auto& one) { return one.name == run.name; });
    if (built == resolved.layout.runs.end() || built->path.size() < 2) return false;
    // A point more in the middle of the longest stretch.
    std::size_t longest = 0;
    for (std::size_t p = 1; p + 1 < built->path.size(); ++p)
      if (distance(built->path[p], built->path[p + 1]) >
          distance(built->path[longest], built->path[longest + 1]))
        longest = p;
    const Point& a = built->path[longest];
    const Point& b = built->path[longest + 1];
    run.path = built->path;
    run.inverts = built->inverts;
    const auto at = static_cast<std::ptrdiff_t>(longest) + 1;
    run.path.insert(run.path.begin() + at, Point{(a.x + b.x) / 2, (a.y + b.y) / 2});
    const double lower = std::min(built->inverts[longest], built->inverts[longest + 1]);
    run.inverts.insert(run.inverts.begin() + at, lower - share * run.pipe.diameter);
    design.as_dug = true;
    return true;
  }
  return false;
}

} // namespace

std::vector<Ailment> ailments_of(const site::Site& site, const site::Design& design,
                                 const terrain::Ground& ground) {
  std::vector<Ailment> all;
  const auto add = [&](const std::string& name, const std::string& severity, const std::string& check,
                       const std::function<bool(site::Site&, site::Design&)>& make) {
    Ailment one{name, severity, check, site, design};
    if (make(one.site, one.design)) all.push_back(std::move(one));
  };
  const Cloggable can = what_can_clog(design);
  const std::vector<UncertainInput> soils = find_conductivities(site);
  const bool conducts =
      std::any_of(soils.begin(), soils.end(), [](const UncertainInput& one) { return one.band.likely > 0; });
  for (const double left : {0.1, 0.01}) {
    const std::string words =
        left > 0.05 ? "a tenth of what it took in is left" : "a hundredth of what it took in is left";
    add("the cap over the stone is clogged", words,
        "Lift a spade's width of the cap over the stone where water stands and pour a bucket on the stone: "
        "if "
        "it goes "
        "down at once, the cap is it.",
        [&](site::Site&, site::Design& ailing) {
          clog_cap(ailing, left);
          return can.cap;
        });
    add("the open stone is silted up",
        "a skin of fines that takes in " + site::written(skin_intake(left), Dimension::speed, site),
        "Rake the top layer of stone away where water stands and pour a bucket there: if it goes down "
        "at once, the fines between the top stones are it. Lift and wash those, or put fresh stone there.",
        [&](site::Site&, site::Design& ailing) {
          silt_up(ailing, left);
          return can.open_stone;
        });
    add("the fabric is clogged", words,
        "Dig beside the trench down to the fabric, cut a hand's width open and pour water in: if the stone "
        "takes it and "
        "the fabric did not, the fabric is it.",
        [&](site::Site&, site::Design& ailing) {
          clog_fabric(ailing, left);
          return can.fabric;
        });
  }
  for (const double times : {1.0, 1.0 / 3})
    add("the soil is tighter than thought", tighter_words(site, times < 0.5),
        "Do a hole test in the tight layer at the low spot, and give it in the site file (hole_test).",
        [&](site::Site& ailing, site::Design& works) {
          ailing = tighter(site, times);
          // The design in the copy has the caps of the copy's topsoil.
          for (const site::Design& same : ailing.designs)
            if (same.name == design.name) works = same;
          return conducts;
        });
  add("the outlet is blocked", "nothing leaves by it",
      "Put a hose into the upper end or a cleanout and look at the outlet: no water within some minutes "
      "means it is "
      "blocked. Clear it, or dig it up.",
      [&](site::Site&, site::Design& ailing) {
        bool any = false;
        for (site::Outlet& outlet : ailing.outlets) {
          if (outlet.kind == "dry well" || outlet.kind == "pump") continue;
          outlet.kind = "pop-up";
          outlet.opening_head = blocked_head;
          outlet.weep = 0;
          outlet.lid = site::not_given;
          any = true;
        }
        return any; // a pit or a pump has no free end that could be blocked
      });
  for (const double share : {0.5, 1.0})
    add("the pipe has a belly", share < 0.75 ? "half of the pipe deep" : "as deep as the pipe",
        "Run a hose for ten minutes, stop it, and push a fish tape or a camera from the outlet: water "
        "standing half way "
        "up is a belly; or shoot the top of the pipe at three places.",
        [&](site::Site& yard, site::Design& ailing) { return add_belly(yard, ailing, ground, share); });
  return all;
}

} // namespace lowspot::study
