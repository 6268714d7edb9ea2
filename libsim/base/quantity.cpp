#include <lowspot/base/quantity.hpp>

#include <cmath>
#include <optional>

#include <lowspot/base/quantity_tokens.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/base/units.hpp>

namespace lowspot {
namespace {
struct Kind {
  Dimension dimension;
  const char* name;
  const char* example;
  int length, time;
  bool may_be_negative;
};

constexpr Kind kinds[] = {
    {Dimension::length, "length", "\"6 in\"", 1, 0, true},
    {Dimension::area, "area", "\"420 ft2\"", 2, 0, false},
    {Dimension::volume, "volume", "\"50 gal\"", 3, 0, false},
    {Dimension::time, "time", "\"6 hr\"", 0, 1, false},
    {Dimension::speed, "rate of rain or seepage", "\"0.25 in/hr\"", 1, -1, false},
    {Dimension::flow, "flow", "\"8 gal/min\"", 3, -1, false},
    {Dimension::slope, "slope", "\"1 in per 8 ft\"", 0, 0, true},
    {Dimension::angle, "angle", "\"15 deg\"", 0, 0, true},
    {Dimension::per_time, "rate per time", "\"1.5 1/s\"", 0, -1, false},
    {Dimension::per_length, "number per length", "\"12 1/m\"", -1, 0, false},
    {Dimension::area_per_length, "open area per length", "\"1 in2/ft\"", 1, 0, false},
    {Dimension::temperature, "temperature", "\"68 F\"", 0, 0, true},
};

const Kind& kind_of(Dimension dimension) {
  for (const Kind& kind : kinds)
    if (kind.dimension == dimension) return kind;
  return kinds[0];
}

std::string with_article(const std::string& name) {
  return (std::string_view("aeiou").find(name[0]) != std::string_view::npos ? "an " : "a ") + name;
}

// A product of units, and how it was written.
struct Product {
  Unit unit;
  bool by_length = false; // something with a length in it stands under the stroke
};

std::string name_of(const Product& product) {
  if (product.unit.angle) return "an angle";
  for (const Kind& kind : kinds)
    if (kind.length == product.unit.length && kind.time == product.unit.time &&
        (kind.dimension != Dimension::length || !product.by_length))
      return with_article(kind.name);
  return "something else";
}

class Reader {
public:
  Reader(const QuantityTokens& cut, Dimension dimension) : tokens_(cut.tokens), wanted_(kind_of(dimension)) {}

  ParsedQuantity read() {
    const bool negative = is_sign('-');
    if (negative || is_sign('+')) ++at_;
    ParsedQuantity result;
    std::optional<double> value = ratio();
    if (!value && problem_.empty() && wanted_.dimension == Dimension::temperature)
      value = temperature(negative);
    if (!value && problem_.empty()) value = terms();
    if (problem_.empty() && now().kind != QuantityToken::end)
      fail("cannot make sense of \"" + now().text + "\"");
    if (problem_.empty() && negative && !wanted_.may_be_negative)
      fail(with_article(wanted_.name) + " cannot be negative");
    if (problem_.empty() && !std::isfinite(*value)) fail("it is too large");
    result.problem = problem_;
    if (!problem_.empty()) return result;
    result.ok = true;
    result.value = negative && wanted_.dimension != Dimension::temperature ? -*value : *value;
    return result;
  }

private:
  const QuantityToken& now() const { return tokens_[at_]; }
  const QuantityToken& ahead(std::size_t steps) const {
    return tokens_[std::min(at_ + steps, tokens_.size() - 1)];
  }
  static bool is(const QuantityToken& token, char sign) {
    return token.kind == QuantityToken::sign && token.text[0] == sign;
  }
  bool is_sign(char sign) const { return is(now(), sign); }
  bool is_word(const char* word) const { return now().kind == QuantityToken::word && now().text == word; }
  void fail(const std::string& why) {
    if (problem_.empty()) problem_ = why;
  }

  // "1:50", vertical to horizontal.
  std::optional<double> ratio() {
    if (now().kind != QuantityToken::number || !is(ahead(1), ':')) return {};
    if (wanted_.dimension != Dimension::slope)
      return fail("a ratio is a slope, not " + with_article(wanted_.name)), 0;
    const double rise = now().value, run = ahead(2).value;
    if (ahead(2).kind != QuantityToken::number || run <= 0)
      return fail("a ratio needs a number on both sides"), 0;
    // Trades write steep banks the other way round (3:1 is three across to one down).
    if (rise > run) return fail("write a ratio as down to across, such as 1:3, or as a percentage"), 0;
    at_ += 3;
    return rise / run;
  }

  std::optional<double> temperature(bool negative) {
    const std::optional<double> number = mixed_number();
    if (!number) return 0;
    if (is_word("deg") || is_word("degree") || is_word("degrees")) ++at_;
    const double degrees = negative ? -*number : *number;
    const bool celsius = is_word("c") || is_word("celsius") || is_word("degc");
    if (!celsius && !is_word("f") && !is_word("fahrenheit") && !is_word("degf"))
      return fail("a temperature ends in C or F"), 0;
    ++at_;
    return celsius ? degrees : (degrees - 32) / 1.8;
  }

  // One or more terms, each smaller than the one before: 6' 4 3/8", 1 hr 30 min.
  std::optional<double> terms() {
    double sum = 0, last_factor = 0;
    for (int k = 0; k == 0 || now().kind == QuantityToken::number || goes_on(last_factor); ++k) {
      if (k > 0 && is_sign('-')) ++at_;
      const std::optional<double> number = mixed_number();
      if (!number) return 0;
      const std::optional<Product> product = units();
      if (!product || !fits(*product)) return 0;
      const bool plain = wanted_.dimension == Dimension::length || wanted_.dimension == Dimension::time;
      if (k > 0 && (!plain || product->unit.factor >= last_factor))
        return fail("more than one quantity in it"), 0;
      last_factor = product->unit.factor;
      const double part = *number * product->unit.factor;
      sum += product->unit.angle && wanted_.dimension == Dimension::slope ? std::tan(part) : part;
    }
    return sum;
  }

  // The hyphen of 5'-6", between feet and inches.
  bool goes_on(double last_factor) const {
    const std::optional<Unit> foot = find_unit("ft");
    return wanted_.dimension == Dimension::length && is_sign('-') && ahead(1).kind == QuantityToken::number &&
           foot && last_factor == foot->factor;
  }

  // 2, 2.5, 3/8, 4 3/8, 4-3/8.
  std::optional<double> mixed_number() {
    if (now().kind != QuantityToken::number) return fail("no number to begin with"), std::nullopt;
    double value = now().value;
    const bool whole = now().whole;
    ++at_;
    if (is_fraction_stroke(0) && whole) return fraction(value);
    const std::size_t skip = is_sign('-') ? 1 : 0;
    if (ahead(skip).kind == QuantityToken::number && is_fraction_stroke(skip + 1)) {
      at_ += skip + 1;
      const std::optional<double> part = fraction(tokens_[at_ - 1].value);
      if (part && (!whole || *part >= 1)) return fail("not a mixed number such as 4 3/8"), std::nullopt;
      return part ? std::optional<double>(value + *part) : std::nullopt;
    }
    return value;
  }
  bool is_fraction_stroke(std::size_t steps) const {
    return is(ahead(steps), '/') && ahead(steps + 1).kind == QuantityToken::number;
  }
  // The number just passed over the one behind the stroke.
  std::optional<double> fraction(double above) {
    const QuantityToken& below = ahead(1);
    if (!tokens_[at_ - 1].whole || !below.whole || below.value == 0)
      return fail("not a fraction such as 3/8"), std::nullopt;
    at_ += 2;
    return above / below.value;
  }

  // in/hr, 1/s, gal/min/ft2, mm h-1, "in per 8 ft".
  std::optional<Product> units() {
    Product product;
    if (now().kind == QuantityToken::number && now().value == 1 && is(ahead(1), '/')) ++at_; // 1.5 1/s
    if (now().kind == QuantityToken::end) {
      fail(std::string("no unit: write for example ") + wanted_.example);
      return {};
    }
    bool below = is_stroke();
    if (below) ++at_;
    for (;;) {
      double count = 1;
      if (below && now().kind == QuantityToken::number) {
        const std::optional<double> number = mixed_number();
        if (!number || *number == 0) return fail("nothing can be shared by zero"), std::nullopt;
        count = *number;
      }
      const std::optional<Unit> unit = one_unit();
      if (!unit) return {};
      const Unit factor = below ? to_power(*unit, -1) : *unit;
      product.unit.factor *= factor.factor / (below ? count : 1);
      product.unit.length += factor.length;
      product.unit.time += factor.time;
      product.unit.angle = product.unit.angle || unit->angle;
      product.by_length = product.by_length || factor.length < 0;
      if (is_stroke()) {
        below = true;
        ++at_;
      } else if (is_sign('*') || (now().kind == QuantityToken::word && now().power < 0)) {
        below = false;
        if (is_sign('*')) ++at_;
      } else {
        return product;
      }
    }
  }
  // "6 in in 10 ft" is how building codes write a fall.
  bool is_stroke() const {
    return is_sign('/') || is_word("per") ||
           (wanted_.dimension == Dimension::slope && is_word("in") && ahead(1).kind == QuantityToken::number);
  }

  std::optional<Unit> one_unit() {
    int power = 1;
    if (is_word("sq") || is_word("square")) power = 2;
    if (is_word("cu") || is_word("cubic")) power = 3;
    if (power > 1) ++at_;
    if (now().kind != QuantityToken::word) return fail("a unit is missing"), std::nullopt;
    const std::optional<Unit> unit = find_unit(now().text);
    if (!unit) {
      const std::string near = nearest_unit(now().text);
      fail("unknown unit \"" + now().text + "\"" + (near.empty() ? "" : ", perhaps \"" + near + "\""));
      return {};
    }
    power *= now().power;
    if (power != 1 && (unit->angle || std::abs(unit->length) + std::abs(unit->time) != 1))
      return fail("\"" + now().text + "\" takes no power"), std::nullopt;
    ++at_;
    return to_power(*unit, power);
  }

  bool fits(const Product& product) {
    const Unit& unit = product.unit;
    bool fit = unit.length == wanted_.length && unit.time == wanted_.time;
    if (wanted_.dimension == Dimension::angle) fit = fit && unit.angle;
    if (wanted_.dimension != Dimension::angle && wanted_.dimension != Dimension::slope)
      fit = fit && !unit.angle;
    if (wanted_.dimension == Dimension::length) fit = fit && !product.by_length;
    if (wanted_.dimension == Dimension::area_per_length) fit = fit && product.by_length;
    if (!fit)
      fail("it is " + name_of(product) + ", not " + with_article(wanted_.name) + " such as " +
           wanted_.example);
    return fit;
  }

  const std::vector<QuantityToken>& tokens_;
  const Kind& wanted_;
  std::size_t at_ = 0;
  std::string problem_;
};
} // namespace

ParsedQuantity parse_quantity(std::string_view text, Dimension dimension) {
  if (text.size() > 200) return {false, 0, "too long for a quantity"};
  const QuantityTokens cut = cut_quantity(text);
  if (!cut.problem.empty()) return {false, 0, cut.problem};
  if (cut.tokens.size() == 1) return {false, 0, "it is empty"};
  return Reader(cut, dimension).read();
}

std::string dimension_name(Dimension dimension) {
  return kind_of(dimension).name;
}
std::string dimension_example(Dimension dimension) {
  return kind_of(dimension).example;
}

} // namespace lowspot
