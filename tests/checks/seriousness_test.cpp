#include <lowspot/checks/seriousness.hpp>

#include <fstream>
#include <regex>
#include <set>

#include "round_yard.hpp"

using namespace lowspot;

TEST_CASE("every check of the layer's page has its place in the order, once") {
  std::ifstream page(std::filesystem::path(LOWSPOT_SOURCE_DATA).parent_path() / "libsim/checks/README.md");
  REQUIRE(page);
  std::set<std::string> listed;
  const std::regex id("`([a-z_]+)`");
  for (std::string line; std::getline(page, line);) {
    if (line.rfind("| `", 0) != 0) continue;
    const std::string first = line.substr(0, line.find('|', 2));
    for (std::sregex_iterator it(first.begin(), first.end(), id), end; it != end; ++it)
      listed.insert((*it)[1]);
  }
  const std::vector<std::string>& order = checks::by_seriousness();
  CHECK(std::set<std::string>(order.begin(), order.end()) == listed);
  CHECK(order.size() == listed.size());
}

TEST_CASE("what can hurt somebody is named before what only silts up") {
  CHECK(checks::seriousness("trench_depth") < checks::seriousness("silting"));
  CHECK(checks::seriousness("outlet_free") < checks::seriousness("pipe_full"));
  CHECK(checks::seriousness("silting") < checks::seriousness("no such check"));
}
