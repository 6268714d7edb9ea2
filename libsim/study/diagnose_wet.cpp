#include <lowspot/study/diagnose_wet.hpp>

#include <lowspot/study/compare.hpp>
#include <lowspot/study/side_by_side.hpp>

namespace lowspot::study {

void diagnose_wet(Diagnosis& diagnosis, const site::Site& site, const terrain::Ground& ground,
                  const terrain::Ground& coarse, const WetOptions& options) {
  site::Site as_is = site;
  as_is.designs.clear();
  CompareOptions run;
  run.threads = options.threads;
  run.version = diagnosis.yard.version;
  run.progress = options.progress;
  results::Comparison comparison = compare(as_is, ground, run);
  diagnosis.wet_places = judge_wet_places(site, comparison, comparison.designs.front());
  diagnosis.yard.designs = std::move(comparison.designs);
  diagnosis.seen.resize(site.seen.size());
  run_side_by_side(static_cast<int>(site.seen.size()), options.threads,
                   [&](int k) { diagnosis.seen[k] = explain_seen(as_is, coarse, site.seen[k]); });
}

} // namespace lowspot::study
