// The three families of errors. The library throws them; only the command line prints them.
#pragma once
#include <stdexcept>
#include <string>

namespace lowspot {

// Where in the user's files something was found. Line 0 or an empty key mean "not known".
struct Where {
  std::string file;
  int line = 0;
  std::string key;
};

// The user can mend this by changing an input: exit code 2.
class InputError : public std::runtime_error {
public:
  // `found` and `expected` are short noun phrases, `mend` one sentence that says what to do.
  InputError(Where where_, std::string found_, std::string expected_, std::string mend_);
  Where where;
  std::string found;
  std::string expected;
  std::string mend;
};

// The computation cannot go on: carries the simulated time and what failed. Exit code 1.
class NumericsError : public std::runtime_error {
public:
  using std::runtime_error::runtime_error;
};

} // namespace lowspot
