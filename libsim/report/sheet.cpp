#include <lowspot/report/sheet.hpp>

#include <algorithm>
#include <string_view>

#include <lowspot/report/document.hpp>

namespace lowspot::report {
namespace {

// On paper the columns are fixed; on a phone they follow each other.
constexpr const char* style = R"css(
@page{margin:9mm 11mm 13mm}
body{max-width:62rem}
.cols{display:grid;gap:.4rem 1.4rem;grid-template-columns:minmax(0,1fr)}
.cols>*{min-width:0}
main h3{font-size:1.08rem;margin:.8rem 0 .3rem;color:var(--accent)}
main ul{margin:.2rem 0;padding-left:1.15rem}main li{margin:.12rem 0}
main p{margin:.3rem 0}main figure{margin:.3rem 0}
.works td:nth-child(2){min-width:16rem}main table{font-size:.9rem}main th,main td{padding:.18rem .35rem}
main caption{padding:.1rem 0}main .scroll{margin:.2rem 0}
.write{display:inline-block;border-bottom:1px solid currentColor;min-width:7em}
.writes{display:flex;flex-wrap:wrap;gap:.5rem 1.2rem;margin:.4rem 0}
.cuts td{border-left:1px solid var(--line)}.cuts th:first-child{white-space:nowrap}.cuts td:nth-last-child(-n+2){min-width:3.2em}.three-up ul{columns:3 14rem}.columns ul{columns:2 16rem;column-gap:1.6rem;max-width:none}
.facts th{width:9em}.sketch img{margin:0 auto;max-height:34rem;width:auto}
.maps{align-items:end}.big{font-size:1.15rem;line-height:1.35;max-width:none}
@media (min-width:48rem){.two{grid-template-columns:1fr 1fr}.three{grid-template-columns:1fr 1fr 1fr}.wide-left{grid-template-columns:3fr 2fr}}
@media screen{.cols.tables{grid-template-columns:minmax(0,1fr)}}
@media screen and (max-width:40rem){main tbody th,main td:not(.n),main thead th.n{min-width:0}.cuts:not(.works) :is(th,td){padding-left:.15rem;padding-right:.15rem}.cuts th:first-child{white-space:normal}.cuts:not(.works) :is(th,td):not(:first-child):nth-last-child(-n+2){display:none}}
@media print{
html,body{font-size:8.1pt}body{line-height:1.25}
.two,.cols.tables{grid-template-columns:1fr 1fr}.three{grid-template-columns:1fr 1fr 1fr}.wide-left{grid-template-columns:3fr 2fr}
h1{font-size:14pt;margin:0}main h3{font-size:9.6pt;margin:1.4mm 0 .5mm;break-after:avoid}
main ul{margin:.3mm 0;padding-left:3.6mm}main li{margin:.2mm 0}main p{margin:.6mm 0}main figure{margin:.5mm 0}
main table{font-size:7.7pt}main th,main td{padding:.25mm .9mm}main .scroll{margin:.4mm 0}
main th:first-child{padding-left:0}
.sketch img{max-height:82mm;max-width:100%}.big{font-size:10.4pt;line-height:1.3}
.cols{gap:0 5mm}.writes{gap:1mm 4mm;margin:.8mm 0}.write{min-width:6em}.cuts td{height:3.6mm}.cols{align-items:start}.crew img{max-height:62mm}.cuts,.cuts th,.cuts td{font-size:7.3pt}.cuts td:nth-last-child(-n+2){min-width:8.5mm}.columns ul{columns:2}.three-up ul{columns:3}.columns li{break-inside:avoid}.maps figcaption{min-height:2.6em}
.maps .sketch img{max-height:64mm}
.tight{font-size:7.3pt;line-height:1.15}.tight .sketch img{max-height:54mm}.tight .plan img{max-height:74mm}.tight table,.tight .cuts,.tight .cuts th,.tight .cuts td{font-size:6.9pt}.tight .cuts td{height:3.1mm}
body:has(.tight) h1{font-size:11.5pt}.tight .three-up ul{columns:4}.tight .writes{margin:.4mm 0}
.tight .crowded .sketch img{max-height:62mm}.crowded{font-size:6.9pt;line-height:1.08}.tight .crowded h3{font-size:7.8pt;margin:.5mm 0 .2mm}.tight .crowded :is(table,.cuts,.cuts th,.cuts td){font-size:6.6pt}.tight .crowded .cuts td{height:2.8mm}.crowded th,.crowded td{padding:.12mm .9mm}.tight .full .sketch img{max-height:44mm}.full .alert{padding:.3mm 1.4mm}.tight .full :is(p,ul,figure,.writes,.scroll){margin-top:.1mm;margin-bottom:.1mm}.full li{margin:0}
.tight h3{font-size:8.4pt;margin-top:.8mm}.tight .big{font-size:9pt}
.works td:nth-child(2){min-width:0;width:60%;border-left:0}.alert{padding:.8mm 2mm}.chart{max-height:60mm}
}
)css";

// Length in bytes of the letter that begins here.
std::size_t letter_bytes(unsigned char first) {
  if (first < 0x80) return 1;
  if (first < 0xe0) return 2;
  return first < 0xf0 ? 3 : 4;
}

// Length in bytes of so many letters from the beginning, or of all there are.
std::size_t bytes_of(const std::string& text, std::size_t letters) {
  std::size_t at = 0;
  for (; letters > 0 && at < text.size(); --letters) at += letter_bytes(static_cast<unsigned char>(text[at]));
  return std::min(at, text.size());
}

} // namespace

std::size_t sheet_design(const results::Comparison& comparison) {
  for (std::size_t k = 1; k < comparison.designs.size(); ++k)
    if (comparison.designs[k].name == comparison.verdict.design) return k;
  return comparison.designs.size() > 1 ? 1 : 0;
}

std::string sheet_html(const SheetScene& scene, const std::string& title, const std::string& body,
                       bool tight) {
  Document document;
  document.title = title;
  document.body = tight ? "<div class=\"tight\">" + body + "</div>\n" : body;
  document.version = scene.comparison().version;
  document.metric = scene.units().metric;
  document.style = style;
  return document_html(document);
}

std::string short_name(const std::string& name, std::size_t most) {
  const std::size_t at = bytes_of(name, most);
  if (at >= name.size()) return name;
  const std::size_t space = name.rfind(' ', at), least = bytes_of(name, most / 3);
  // Between words where one ends not too far back, and without the comma behind it.
  std::size_t end = space != std::string::npos && space >= least ? space : at;
  while (end > 1 && std::string_view(" ,;:.-").find(name[end - 1]) != std::string_view::npos) --end;
  return name.substr(0, end) + "\u2026";
}

std::string sentence_case(std::string phrase) {
  if (!phrase.empty() && phrase[0] >= 'a' && phrase[0] <= 'z')
    phrase[0] = static_cast<char>(phrase[0] - 'a' + 'A');
  return phrase;
}

std::string as_sentence(const std::string& text) {
  const bool cut = text.size() >= 3 && text.compare(text.size() - 3, 3, "\u2026") == 0;
  return cut ? text : text + ".";
}

std::string whole_sentences(const std::string& text, std::size_t most) {
  const std::size_t cut = bytes_of(text, most);
  if (cut >= text.size()) return text;
  const std::size_t end = text.substr(0, cut).rfind(". ");
  return end == std::string::npos ? short_name(text, most) : text.substr(0, end + 1);
}

std::string blank(const std::string& name) {
  return "<span>" + escape(name) + " <span class=\"write\">&nbsp;</span></span> ";
}

std::string and_more(std::size_t left, const std::string& page) {
  return "and " + std::to_string(left) + " more: see " + page;
}

std::vector<std::string> at_most(std::vector<std::string> items, std::size_t most, const std::string& page) {
  if (items.size() <= most) return items;
  const std::size_t left = items.size() - most + 1;
  items.resize(most - 1);
  items.push_back(and_more(left, page));
  return items;
}

void keep_rows(Table& table, std::size_t most, const std::string& page) {
  if (table.rows.size() <= most) return;
  const std::size_t left = table.rows.size() - most + 1;
  table.rows.resize(most - 1);
  std::vector<std::string> last(table.head.size());
  last.front() = and_more(left, page);
  table.rows.push_back(std::move(last));
}

std::string part(const std::string& title, const std::string& html) {
  return "<section><h3>" + escape(title) + "</h3>\n" + html + "</section>\n";
}

} // namespace lowspot::report
