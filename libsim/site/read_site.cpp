#include <lowspot/site/read_site.hpp>

#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/second_look.hpp>
#include <lowspot/site/site_text.hpp>

namespace lowspot::site {
Site read_site(const std::filesystem::path& path, const catalog::Catalog& catalog) {
  Site site;
  site.file = find_site_file(path);
  site.folder = site.file.parent_path();
  const std::string name = site.file.string();
  const toml::table file = parse_site_text(read_text(site.file, limits::site_file_bytes), name);
  Context context{name, catalog, site};
  const TableReader root(file, "", context);
  // All known tables first, so that a misspelt heading is found before its absence is felt.
  for (const char* key : {"site",
                          "ground",
                          "edges",
                          "soil",
                          "area",
                          "building",
                          "wall",
                          "storm",
                          "season",
                          "target",
                          "gauge",
                          "line",
                          "seen",
                          "design",
                          "run",
                          "takeoff",
                          "rate",
                          "reach",
                          "outlet_candidate",
                          "limits",
                          "keep_off",
                          "tree",
                          "utility",
                          "tune"})
    root.has(key);
  root.done();
  read_yard(root, context);
  read_limits(root, context); // what trenches are warned of by
  read_ground(root, context);
  read_soils(root, context);
  read_areas(root, context);
  read_buildings(root, context);
  read_walls(root, context);
  read_storm(root, context);
  read_edges(root, context); // whose tables are held against how long it rains
  read_season(root, context);
  read_target(root, context);
  read_gauges(root, context);
  read_seen(root, context);
  read_designs(root, context);
  read_ordering(root, context);
  read_reach(root, context);
  read_keep_off(root, context);
  read_run_options(root, context);
  read_tune(root, context);
  second_look(root, site);
  return site;
}

} // namespace lowspot::site
