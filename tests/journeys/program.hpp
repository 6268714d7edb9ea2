// Runs the program as a user does and keeps what it said.
#pragma once
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <sys/wait.h>
#include <vector>

#include <nlohmann/json.hpp>

namespace journey {
namespace fs = std::filesystem;

struct Answer {
  int code = -1;
  std::string out, err;
};

inline std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

inline void write(const fs::path& path, const std::string& text) {
  fs::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << text;
}

// An empty folder of this name for one test.
inline fs::path fresh_folder(const std::string& name) {
  const fs::path folder = fs::temp_directory_path() / ("lowspot_journey_" + std::to_string(getpid())) / name;
  fs::remove_all(folder);
  fs::create_directories(folder);
  return folder;
}

inline std::string quoted(const std::string& text) {
  std::string result = "'";
  for (char c : text) result += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return result + "'";
}

// Runs `lowspot ARGUMENTS` with the environment given as "NAME=value ..." in front.
inline Answer run(const std::vector<std::string>& arguments, const std::string& environment = "") {
  const fs::path folder = fresh_folder("said");
  std::string command = environment + " " + quoted(LOWSPOT_PROGRAM);
  for (const std::string& argument : arguments) command += " " + quoted(argument);
  command +=
      " >" + quoted((folder / "out").string()) + " 2>" + quoted((folder / "err").string()) + " </dev/null";
  const int status = std::system(command.c_str());
  Answer answer;
  answer.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  answer.out = content(folder / "out");
  answer.err = content(folder / "err");
  return answer;
}

// In front of a command: two processes. Whole call stacks are for tests/leaks_of_others.txt, when sanitizers
// are built in.
inline const std::string two_processes =
    "OMPI_ALLOW_RUN_AS_ROOT=1 OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 ASAN_OPTIONS=fast_unwind_on_malloc=0 "
    "mpirun --oversubscribe -n 2";

inline nlohmann::json json_file(const fs::path& path) {
  return nlohmann::json::parse(content(path));
}

// A table of hydrographs.csv: one column by name.
inline std::vector<double> column(const fs::path& path, const std::string& name) {
  std::ifstream file(path);
  std::string line, cell;
  std::getline(file, line);
  std::vector<std::string> names;
  bool inside = false;
  for (char c : line + ",") {
    if (c == '"')
      inside = !inside;
    else if (c == ',' && !inside) {
      names.push_back(cell);
      cell.clear();
    } else if (c != '\r')
      cell += c;
  }
  std::size_t index = 0;
  while (index < names.size() && names[index] != name) ++index;
  if (index == names.size()) throw std::runtime_error("no column '" + name + "' in " + line);
  std::vector<double> values;
  while (std::getline(file, line)) {
    std::size_t start = 0;
    for (std::size_t k = 0; k < index; ++k) start = line.find(',', start) + 1;
    values.push_back(std::stod(line.substr(start)));
  }
  return values;
}

// The four corners of a rectangle falling to the east at `slope`, as a levels table.
inline std::string plane_levels(double width, double depth, double slope, double top = 10) {
  std::string text = "x,y,elevation\n";
  for (double x : {0.0, width})
    for (double y : {0.0, depth})
      text += std::to_string(x) + "," + std::to_string(y) + "," + std::to_string(top - slope * x) + "\n";
  return text;
}

} // namespace journey
