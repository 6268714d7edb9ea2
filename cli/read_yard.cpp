#include "read_yard.hpp"

#include <lowspot/catalog/catalog.hpp>
#include <lowspot/site/read_site.hpp>

namespace lowspot::cli {

site::Site read_yard(Context& context, const std::string& where) {
  site::Site site = site::read_site(where, catalog::read_catalog(catalog_folder()));
  context.odd_in_site = site.warnings;
  return site;
}

} // namespace lowspot::cli
