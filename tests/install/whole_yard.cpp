// whole_yard SITE CATALOG: reads a yard, runs it with every design and prints the verdict.
#include <cstdio>
#include <lowspot/catalog/catalog.hpp>
#include <lowspot/site/read_site.hpp>
#include <lowspot/study/compare.hpp>
#include <lowspot/terrain/ground.hpp>

int main(int, char** argv) {
  const lowspot::site::Site site = lowspot::site::read_site(argv[1], lowspot::catalog::read_catalog(argv[2]));
  std::puts(lowspot::study::compare(site, lowspot::terrain::build_ground(site), {}).verdict.sentence.c_str());
}
