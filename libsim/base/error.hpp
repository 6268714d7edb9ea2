// The three families of errors. The library throws them; only the command line prints them.
#pragma once
#include <stdexcept>
#include <string>

namespace lowspot {

// Where in the user's files something was found. Line 0 or an empty key mean "not known".
struct Where {
  std::string file; // as messages name it
  int line = 0;     // from 1
  std::string key;  // or the column of a table
};

// The user can mend this by changing an input: exit code 2.
class InputError : public std::runtime_error {
public:
  // `found` and `expected` are short noun phrases, `mend` one sentence that says what to do.
  InputError(Where where_, std::string found_, std::string expected_, std::string mend_);
  Where where;          // the file, line and key it is about
  std::string found;    // what stands there
  std::string expected; // what belongs there
  std::string mend;     // what to do
};

// The computation cannot go on: carries the simulated time and what failed. Exit code 1.
class NumericsError : public std::runtime_error {
public:
  using std::runtime_error::runtime_error;
};

} // namespace lowspot
