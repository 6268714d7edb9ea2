// The pieces a quantity is written in: numbers, words and signs.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace lowspot {

// A number, a word or a sign of a quantity.
struct QuantityToken {
  // What a piece is.
  enum Kind { number, word, sign, end };
  Kind kind = end;    // end: nothing follows
  std::string text;   // words in lower case; signs one character
  double value = 0;   // of a number
  bool whole = false; // the number was written without point or exponent
  int power = 1;      // of a word: "ft2", "s-1", "ft^2"
};

// A quantity cut into its pieces.
struct QuantityTokens {
  std::vector<QuantityToken> tokens; // closed by an end token
  std::string problem;               // not empty: what cannot be read
};

// The marks that keyboards, telephones and spreadsheets put in place of plain ones, in UTF-8, as the plain
// ones: quotes and primes, dashes, fractions such as one half.
std::string plain_marks(std::string_view text);

// ' and " become the words "ft" and "in", the degree sign "deg"; typographic marks are read as the plain
// ones. Points behind words are dropped.
QuantityTokens cut_quantity(std::string_view text);

} // namespace lowspot
