#include <lowspot/site/usual_range.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
// What the second look says of a yard with this piece in it.
std::string odd(const std::string& more, const std::string& key) {
  std::string all;
  for (const std::string& warning : read(yard(more)).warnings)
    if (warning.find(key + ":") != std::string::npos) all += warning + "\n";
  return all;
}
const std::string design = "[[design]]\nname = \"d\"\n";
std::string run(const std::string& pipe, const std::string& more) {
  return design + "[[design.run]]\nname = \"leg\"\npath = [[10, 20], [40, 20]]\npipe = " + pipe + "\n" +
         more + "to = \"out\"\n[[design.outlet]]\nname = \"out\"\nat = [40, 20]\n";
}
const std::string slotted = "\"3 in corrugated, slotted\"";
} // namespace

TEST_CASE("a figure is told outside of its usual range, with the limit and what it does, and not inside") {
  const auto outlet = [](const std::string& diameter) {
    return odd(design + "[[design.drywell]]\nname = \"w\"\nat = [40, 20]\ndiameter = \"" + diameter + "\"\n",
               "diameter");
  };
  CHECK(outlet("4 ft") == "");
  CHECK(outlet("6 in") == "");
  CHECK(outlet("12 ft") == "");
  CHECK_THAT(outlet("36 ft"), ContainsSubstring("36 ft is more than 12 ft") &&
                                  ContainsSubstring("whole lot") &&
                                  ContainsSubstring("check the figure and its unit"));
  CHECK_THAT(outlet("0.1 in"), ContainsSubstring("less than 6 in") && ContainsSubstring("next to nothing"));
}

TEST_CASE("figures that would be silently wrong in the ground are told") {
  const auto soil = [](const std::string& topsoil, const std::string& tight, const std::string& key) {
    return odd("[[soil]]\ntopsoil = { texture = \"silt loam\", " + topsoil +
                   " }\ntight_layer = { conductivity = \"0.02 in/hr\"" + tight + " }\n",
               key);
  };
  CHECK(soil("depth = \"8 in\", crust = { thickness = \"1 cm\" }", ", thickness = \"1 ft\"", "thickness") ==
        "");
  CHECK_THAT(soil("depth = \"0.01 in\"", "", "depth"), ContainsSubstring("less than 1 in"));
  CHECK_THAT(soil("depth = \"8 in\", crust = { thickness = \"10 ft\" }", "", "thickness"),
             ContainsSubstring("more than 2 in"));
  CHECK_THAT(soil("depth = \"8 in\", crust = { conductivity = \"1e-9 in/hr\" }", "", "conductivity"),
             ContainsSubstring("tighter than any soil"));
  CHECK_THAT(soil("depth = \"8 in\"", ", thickness = \"0.001 in\"", "thickness"), ContainsSubstring("leaks"));
  CHECK_THAT(soil("conductivity = [\"0.1 in/hr\", \"0.2 in/hr\", \"1e7 in/hr\"]", "", "conductivity"),
             ContainsSubstring("the upper end of the band, 1e+07 in/hr") || ContainsSubstring("1e7 in/hr"));
  CHECK_THAT(odd("[[wall]]\nline = [[1, 1], [20, 1]]\nheight = \"400 ft\"\n", "height"),
             ContainsSubstring("no water ever passes over it"));
  CHECK(odd("[[wall]]\nline = [[1, 1], [20, 1]]\nheight = \"6 ft\"\n", "height") == "");
  CHECK_THAT(odd("[[edges.seep]]\nalong = [[1, 1], [20, 1]]\nsaturated = \"30 ft\"\n", "saturated"),
             ContainsSubstring("more than 4 ft"));
  CHECK_THAT(odd("[[area]]\nname = \"a\"\nkind = \"concrete\"\nrectangle = [1, 1, 9, 9]\njoints = { width = "
                 "\"0.25 in\", spacing = \"2 ft\", conductivity = \"1e7 in/hr\" }\n",
                 "conductivity"),
             ContainsSubstring("never limit"));
}

TEST_CASE("figures that would be silently wrong in the works are told") {
  CHECK_THAT(odd(run("{ diameter = \"0.01 in\" }", ""), "diameter"), ContainsSubstring("hardly any water"));
  CHECK_THAT(odd(run("{ diameter = \"4 in\", slot_area = \"0.3 ft2/ft\" }", ""), "slot_area"),
             ContainsSubstring("openings never limit"));
  CHECK_THAT(odd(run(slotted, "stone = { porosity = 0.4, conductivity = \"1e7 in/hr\" }\n"), "conductivity"),
             ContainsSubstring("stone never limits"));
  CHECK_THAT(odd(run(slotted, "fabric = { permittivity = \"1e-9 1/s\" }\n"), "permittivity"),
             ContainsSubstring("hardly any water"));
  CHECK_THAT(odd(run(slotted, "cap = { conductivity = \"1e9 in/hr\", depth = \"4 in\" }\n"), "conductivity"),
             ContainsSubstring("cap never limits"));
  CHECK_THAT(
      odd(design + "[[design.amend]]\nrectangle = [1, 1, 9, 9]\ndepth_added = \"36 ft\"\n", "depth_added"),
      ContainsSubstring("more than 4 ft"));
  CHECK_THAT(odd(design + "[[design.amend]]\nrectangle = [1, 1, 9, 9]\nconductivity_factor = 1000\n",
                 "conductivity_factor"),
             ContainsSubstring("1000 times"));
  CHECK_THAT(
      odd(run(slotted, "") + "[[design.inlet]]\nat = [10, 20]\nsize = \"36 ft\"\nto = \"leg\"\n", "size"),
      ContainsSubstring("whatever comes"));
}

TEST_CASE("figures of soil, lids and gutters that nothing ever has are told") {
  const std::string soil =
      "[[soil]]\ntopsoil = { porosity = 0.45, field_capacity = 0.3, wilting_point = 0.1, "
      "conductivity = \"0.2 in/hr\", pore_size_index = 0.2, wetting_front_suction = ";
  const std::string rest = " }\ntight_layer = { conductivity = \"0.02 in/hr\" }\n";
  CHECK(odd(soil + "\"6 in\"" + rest, "wetting_front_suction") == "");
  CHECK_THAT(odd(soil + "\"1e30 in\"" + rest, "wetting_front_suction"),
             ContainsSubstring("drinks a whole storm"));
  const auto lid = [](const std::string& lift) {
    return odd(run(slotted, "") +
                   "[[design.fitting]]\nname = \"eye\"\nat = [10, 20]\ncleanout = \"4 in\"\nlift = \"" +
                   lift + "\"\n",
               "lift");
  };
  CHECK(lid("2 in") == "");
  CHECK_THAT(lid("1e30 in"), ContainsSubstring("the cap never lifts"));
  const auto gutter = [](const std::string& capacity) {
    return odd(run(slotted, "") +
                   "[[design.channel]]\nname = \"g\"\npath = [[10, 26], [10, 21]]\ncapacity = \"" + capacity +
                   "\"\nto = \"leg\"\n",
               "capacity");
  };
  CHECK(gutter("20 gal/min") == "");
  CHECK_THAT(gutter("1e30 gal/min"), ContainsSubstring("never limits"));
}
