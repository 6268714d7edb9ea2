#include <lowspot/report/takeoff_table.hpp>

#include <algorithm>
#include <cctype>
#include <cmath>

#include <lowspot/base/csv_text.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/report/document.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sheet.hpp>
#include <lowspot/report/units.hpp>

namespace lowspot::report {
namespace {

constexpr double short_ton = 907.18474; // kg

struct PaperUnit {
  double si;
  const char* name;     // in a table for a spreadsheet, and as a rate names it
  const char* on_paper; // to be read
};

PaperUnit paper_unit(job::Measure measure, bool metric) {
  switch (measure) {
  case job::Measure::length:
    return metric ? PaperUnit{1, "m", "m"} : PaperUnit{0.3048, "ft", "ft"};
  case job::Measure::area:
    return metric ? PaperUnit{1, "m2", "m²"} : PaperUnit{0.09290304, "ft2", "ft²"};
  case job::Measure::volume:
    return metric ? PaperUnit{1, "m3", "m³"} : PaperUnit{0.764554857984, "yd3", "cu yd"};
  case job::Measure::time:
    return {3600, "h", "h"};
  case job::Measure::count:
    break;
  }
  return {1, "", ""};
}

std::string quantity(double value, job::Measure measure, bool metric) {
  const PaperUnit unit = paper_unit(measure, metric);
  if (measure == job::Measure::count) return rounded(value, 4);
  const double shown = value / unit.si;
  if (measure == job::Measure::time)
    return fixed(shown, 1) + " " + unit.on_paper; // times a rate it is the cost
  // Whole feet and square feet, tenths of a yard: finer would promise more than a tape gives. Of less than
  // ten, such as 1.5 ft of pipe, the half that rounding may take would be missing on the job.
  const bool tenths = measure == job::Measure::volume || (metric && measure == job::Measure::length) ||
                      std::round(10 * shown) < 100;
  return fixed(shown, tenths ? 1 : 0) + " " + unit.on_paper;
}

std::string money(double value, const site::Site& site) {
  return std::isfinite(value) ? price_text(fixed(value, 2), site) : "";
}

std::string weight(const job::TakeoffLine& line, bool metric) {
  std::string text;
  if (line.mass > 0)
    text = metric ? fixed(line.mass / 1000, 1) + " t" : fixed(line.mass / short_ton, 1) + " tons";
  if (line.loads > 0)
    text += (text.empty() ? "" : ", ") + rounded(line.loads, 4) + (line.loads > 1 ? " loads" : " load");
  return text;
}

// Whole yards are written as such, a size of its own as exactly as it was given.
std::string load_size(const site::Site& site, bool metric) {
  const PaperUnit unit = paper_unit(job::Measure::volume, metric);
  return rounded(site.ordering.truck / unit.si, 3) + " " + unit.on_paper;
}

} // namespace

std::string price_text(const std::string& figure, const site::Site& site) {
  const std::string currency = trim(site.ordering.currency);
  const bool letters = !currency.empty() && std::isalpha(static_cast<unsigned char>(currency.back())) != 0;
  return currency + (letters ? " " : "") + figure;
}

std::string sum_figure(double value) {
  if (!std::isfinite(value)) return figure(value, Unit{});
  if (std::abs(value) < 99.995) return value == 0 ? "0" : fixed(value, 2);
  return figure(std::round(value), Unit{}, 15);
}

std::string si_unit(job::Measure measure) {
  const char* names[] = {"m", "m2", "m3", "pieces", "s"};
  return names[static_cast<int>(measure)];
}

std::vector<TakeoffRow> takeoff_rows(const job::Takeoff& takeoff, const site::Site& site) {
  const bool metric = site.units != "ft";
  std::vector<TakeoffRow> rows;
  for (const job::TakeoffLine& line : takeoff.lines)
    rows.push_back({line.group, line.item, quantity(line.net, line.measure, metric),
                    quantity(line.ordered, line.measure, metric), weight(line, metric),
                    money(line.cost, site)});
  return rows;
}

std::string takeoff_sentence(const job::Takeoff& takeoff, const site::Site& site) {
  const std::size_t priced = takeoff.lines.size() - static_cast<std::size_t>(takeoff.without_price);
  if (priced == 0)
    return "No prices: give your own as [[rate]] tables in the site file (item, price, per), and the costs "
           "are "
           "added up.";
  std::string text = "In all " + money(takeoff.cost, site) + " for " +
                     (priced == 1 ? "the one line" : "the " + std::to_string(priced) + " lines") +
                     " with a price of your own";
  if (takeoff.without_price == 0) return text + ".";
  return text + "; " +
         (takeoff.without_price == 1
              ? "1 has none and is not in the sum."
              : std::to_string(takeoff.without_price) + " have none and are not in the sum.");
}

std::vector<std::string> takeoff_factors(const job::Takeoff& takeoff) {
  std::vector<std::string> factors;
  for (const job::TakeoffLine& line : takeoff.lines) {
    const std::string factor = line.item + ": " + line.allowance;
    if (!line.allowance.empty() && std::find(factors.begin(), factors.end(), factor) == factors.end())
      factors.push_back(factor);
  }
  return factors;
}

std::string takeoff_csv(const job::Takeoff& takeoff, const site::Site& site) {
  const bool metric = site.units != "ft";
  std::string csv = std::string("group,item,net,ordered,unit,") + (metric ? "mass_kg" : "weight_tons") +
                    ",loads,price,per,cost,currency,allowance\n";
  const auto number = [](double value) { return std::isfinite(value) ? rounded(value, 6) : std::string(); };
  for (const job::TakeoffLine& line : takeoff.lines) {
    const PaperUnit unit = paper_unit(line.measure, metric);
    csv += line.group + "," + csv_text(line.item) + "," + number(line.net / unit.si) + "," +
           number(line.ordered / unit.si) + "," +
           (line.measure == job::Measure::count ? "pieces" : unit.name) + "," +
           number(line.mass / (metric ? 1 : short_ton)) + "," + number(line.loads) + "," +
           number(line.price) + "," + line.per + "," + number(line.cost) + "," +
           csv_text(trim(site.ordering.currency)) + "," + csv_text(line.allowance) + "\n";
  }
  return csv;
}

std::string takeoff_html(const job::Takeoff& takeoff, const site::Site& site, const std::string& version) {
  Document document;
  document.title = "Take-off: " + takeoff.design + ", " + site.name;
  document.version = version;
  document.metric = site.units != "ft";
  // At the counter, with a phone in hand, what is to be ordered is wanted.
  document.style = "@media screen and (max-width:40rem){td,th{padding:.38rem "
                   ".25rem}:is(th,td):nth-child(2){display:none}"
                   "td:nth-child(4){white-space:normal}}";
  Table table;
  table.head = {"Item", "In place", "To order", "Weight and loads"};
  const std::vector<TakeoffRow> rows = takeoff_rows(takeoff, site);
  const bool priced =
      std::any_of(rows.begin(), rows.end(), [](const TakeoffRow& row) { return !row.cost.empty(); });
  if (priced) table.head.push_back("Cost");
  for (const TakeoffRow& row : rows) {
    table.rows.push_back({row.item, row.net, row.ordered, row.weight});
    if (priced) table.rows.back().push_back(row.cost);
  }
  document.body =
      table_html(table) + paragraph(takeoff_sentence(takeoff, site)) +
      "<h3>What was added to the figures in place</h3>\n" + list(takeoff_factors(takeoff)) +
      paragraph("Change them in [takeoff] of the site file. Volumes to order are loose, in place they "
                "are as dug or as laid; a load is " +
                load_size(site, document.metric) +
                ". Not counted: rock, roots, marker tape, disposal, permits.");
  if (!takeoff.notes.empty()) {
    std::vector<std::string> notes;
    for (const std::string& note : takeoff.notes) notes.push_back(sentence_case(note) + ".");
    document.body += "<h3>Worth a second look</h3>\n" + list(notes);
  }
  return document_html(document);
}

} // namespace lowspot::report
