#include <lowspot/study/named_design.hpp>

#include <vector>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::study {

const site::Design& named_design(const site::Site& site, const std::string& name) {
  std::vector<std::string> names;
  std::string listed;
  for (const site::Design& design : site.designs) {
    if (design.name == name || (name.empty() && site.designs.size() == 1)) return design;
    names.push_back(design.name);
    listed += (listed.empty() ? "\"" : ", \"") + design.name + "\"";
  }
  for (const site::Design& design : site.designs)
    if (!name.empty() && design.own_name == name) return design;
  if (names.empty())
    throw InputError({site.file.string(), 0, "design"}, "no design", "one design at least",
                     "add a [[design]] with its runs and an outlet");
  const std::string near = nearest(name, names);
  throw InputError({"", 0, "--design"}, name.empty() ? "no name" : "\"" + name + "\"",
                   "one of this yard's designs: " + listed,
                   near.empty() ? "name one with --design" : "did you mean \"" + near + "\"?");
}

} // namespace lowspot::study
