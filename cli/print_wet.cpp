// Why it is wet, in words: kind of wet, sources and what was seen.
#include <cstdio>

#include <lowspot/base/text.hpp>
#include <lowspot/report/share_text.hpp>
#include <lowspot/study/shares.hpp>

#include "print_wet.hpp"

namespace lowspot::cli {
namespace {

constexpr double least_shown = 0.02;

std::string volume_text(const study::Diagnosis& diagnosis, double volume) {
  const bool feet = diagnosis.yard.units == "ft";
  return rounded(volume / (feet ? 3.785411784e-3 : 1e-3), 2) + (feet ? " gal" : " L");
}

void print_place(const Context& context, const study::Diagnosis& diagnosis, const study::WetPlace& place) {
  std::printf("\n%s: %s\n", context.terminal.bold(place.name).c_str(), study::wet_name(place.wet).c_str());
  std::printf("  %s\n", wrap(place.finding, 2).c_str());
  const results::SourceShares& shares = diagnosis.yard.designs.front().shares;
  if (const results::PlaceShares* found = study::find_place(shares, place.kind, place.name)) {
    std::printf("  At its fullest it holds %s:\n", volume_text(diagnosis, found->peak_volume).c_str());
    for (const study::SharePart& part : study::largest_first(shares, found->at_peak))
      if (part.share >= least_shown)
        std::printf("    %s  %-10s %s\n", flush_right(report::share_text(part.share), 5).c_str(),
                    volume_text(diagnosis, part.volume).c_str(), part.source.c_str());
  }
  for (const study::BestFix& fix : place.fixes)
    if (fix.share >= least_shown)
      std::printf(
          "  %s\n",
          wrap("- takes " + report::share_text(fix.share) + " of it at best: " + fix.what, 4, 2).c_str());
  std::printf("  %s\n", wrap("To be sure: " + place.test, 2).c_str());
}

} // namespace

void print_wet(const Context& context, const study::Diagnosis& diagnosis) {
  if (diagnosis.yard.designs.empty()) return;
  bool some = false;
  for (const study::WetPlace& place : diagnosis.wet_places) {
    if (place.wet == study::Wet::no) continue;
    print_place(context, diagnosis, place);
    some = true;
  }
  if (!some) std::printf("\nIn this storm no place stays wet.\n");
  for (const study::LeakFinding& finding : diagnosis.seen) {
    std::printf("\n%s: %s\n", context.terminal.bold(finding.seen).c_str(),
                finding.rain_explains ? "rain" : "not rain alone");
    std::printf("  %s\n", wrap(finding.sentence, 2).c_str());
    for (const std::string& test : finding.tests)
      std::printf("  %s\n", wrap("- before anyone digs: " + test, 4, 2).c_str());
  }
  std::printf("\nShares are of the likely value of each input; soil can differ tenfold.\n");
}

} // namespace lowspot::cli
