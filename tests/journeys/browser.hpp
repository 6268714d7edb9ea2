// Pages opened as a reader opens them: in a headless browser, with a script of ours put into a copy.
#pragma once
#include "journeys/program.hpp"

namespace journey {

inline bool browser_here() {
  return std::system("command -v chromium >/dev/null 2>&1") == 0;
}

// Runs chromium with these options on a page; returns what it printed.
inline std::string browse(const fs::path& page, const std::string& options) {
  const fs::path folder = fresh_folder("chromium");
  const std::string command =
      "chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run "
      "--disable-background-networking --disable-component-update --disable-sync --hide-scrollbars "
      "--enable-logging=stderr --virtual-time-budget=8000 --user-data-dir=" +
      quoted((folder / "profile").string()) + " " + options + " " + quoted("file://" + page.string()) + " >" +
      quoted((folder / "out").string()) + " 2>" + quoted((folder / "err").string()) + " </dev/null";
  if (std::system(command.c_str()) != 0) return "";
  return content(folder / "out") + "\n<!-- log\n" + content(folder / "err") + " -->";
}

// The page after our script has run in it. The script writes its findings to `say(name, value)`; they come
// back as one JSON object. Errors of any script are in its "errors".
inline nlohmann::json ask_page(const fs::path& page, const std::string& script) {
  std::string html = content(page);
  // Ours is the first script, so that it hears the errors of the others.
  const std::string listen =
      "<script>window.heard={errors:[]};addEventListener('error',e=>heard.errors.push(String(e.message)));"
      "addEventListener('unhandledrejection',e=>heard.errors.push(String(e.reason)));"
      "addEventListener('securitypolicyviolation',e=>heard.errors.push('refused: '+e.blockedURI));</script>";
  html.insert(html.find("<head>") + 6, listen);
  const std::string asked =
      "<script>addEventListener('load',async()=>{const say=(n,v)=>{heard[n]=v};"
      "const wait=ms=>new Promise(r=>setTimeout(r,ms));await wait(600);try{" +
      script +
      "}catch(e){heard.errors.push('ours: '+e)}const p=document.createElement('pre');p.id='heard';"
      "p.textContent='HEARD'+JSON.stringify(heard)+'DONE';document.body.append(p);});</script>";
  html.insert(html.rfind("</body>"), asked);
  const fs::path copy = page.parent_path() / ("asked-" + page.filename().string());
  write(copy, html);
  std::string dom = browse(copy, "--dump-dom");
  fs::remove(copy);
  const auto from = dom.rfind("HEARD"), to = dom.rfind("DONE");
  if (from == std::string::npos || to == std::string::npos) return {{"errors", {"the page gave no answer"}}};
  std::string text = dom.substr(from + 5, to - from - 5);
  for (const auto& [entity, letter] : std::vector<std::pair<std::string, std::string>>{
           {"&lt;", "<"}, {"&gt;", ">"}, {"&amp;", "&"}, {"&nbsp;", "\u00a0"}})
    for (auto at = text.find(entity); at != std::string::npos; at = text.find(entity, at + 1))
      text.replace(at, entity.size(), letter);
  return nlohmann::json::parse(text);
}

// Pages that the page takes on this paper ("letter" or "A4").
inline int printed_pages(const fs::path& page, const std::string& paper) {
  std::string html = content(page);
  for (const char* size : {"size:letter", "size:A4"})
    if (const auto at = html.find(size); at != std::string::npos)
      html.replace(at, std::string(size).size(), "size:" + paper);
  const fs::path copy = page.parent_path() / ("printed-" + page.filename().string());
  const fs::path pdf = page.parent_path() / "printed.pdf";
  write(copy, html);
  browse(copy, "--no-pdf-header-footer --print-to-pdf=" + quoted(pdf.string()));
  fs::remove(copy);
  std::string bytes = content(pdf);
  fs::remove(pdf);
  // The page tree names their count, whatever wrote the file.
  int pages = 0;
  for (auto at = bytes.find("/Type /Page"); at != std::string::npos; at = bytes.find("/Type /Page", at + 1))
    pages += at + 11 < bytes.size() && bytes[at + 11] != 's';
  return pages;
}

} // namespace journey
