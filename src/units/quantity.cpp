// SPDX-License-Identifier: MIT
#include "units/quantity.h"

#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "units/nearest.h"
#include "units/quote.h"
#include "units/unit_table.h"

namespace evenspit {

namespace {

using enum Dimension;

std::string write_like(Dimension dimension) {
    if (dimension == number) return "write it without a unit and without quotes, like 0.15";
    return fmt::format("write it like {}", unit_examples(dimension));
}

[[noreturn]] void refuse(std::string found, Dimension dimension, std::string mend = {}) {
    throw QuantityError(std::move(found), std::string(dimension_name(dimension)),
                        mend.empty() ? write_like(dimension) : std::move(mend));
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80;
}

bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

// The few signs beyond ASCII that people type or paste, in the spelling the reader below knows.
std::string plain_spelling(std::string_view text) {
    static constexpr std::array<std::array<std::string_view, 2>, 15> spellings = {{
        {"\u00a0", " "},   // no-break space
        {"\u202f", " "},   // narrow no-break space
        {"\u2009", " "},   // thin space
        {"\u00b2", "^2"},  // ²
        {"\u00b3", "^3"},  // ³
        {"\u00b7", "*"},   // middle dot
        {"\u22c5", "*"},   // dot operator
        {"\u00d7", "*"},   // multiplication sign
        {"\u2212", "-"},   // minus
        {"\u2010", "-"},   // hyphen
        {"\u00ba", "°"},   // the ordinal sign that looks like a degree
        {"\u00bd", " 1/2"},
        {"\u00bc", " 1/4"},
        {"\u00be", " 3/4"},
        {"\u2044", "/"},  // fraction slash
    }};
    std::string plain;
    while (!text.empty()) {
        bool replaced = false;
        for (const auto& [typed, spelling] : spellings) {
            if (!text.starts_with(typed)) continue;
            plain += spelling;
            text.remove_prefix(typed.size());
            replaced = true;
            break;
        }
        if (replaced) continue;
        plain += text.front();
        text.remove_prefix(1);
    }
    return plain;
}

// A unit as written, in the spelling of the table: one space for every sign of multiplication, no brackets,
// no "^".
std::string canonical_unit(std::string_view written) {
    std::string name;
    bool gap = false;
    for (std::size_t i = 0; i < written.size(); ++i) {
        const char c = written[i];
        if (c == '^') continue;
        if (is_space(c) || c == '*' || c == '-' || c == '(' || c == ')' || c == '.') {
            gap = true;
            continue;
        }
        if (gap && !name.empty() && name.back() != '/' && c != '/') name += ' ';
        gap = false;
        name += c;
    }
    return name;
}

struct Term {
    double value = 0;
    std::string unit;     // canonical
    std::string written;  // the unit as it stands
};

// Reads "±number unit number unit …" term by term.
class Reader {
  public:
    Reader(std::string_view whole, Dimension dimension)
        : whole_(whole), dimension_(dimension), text_(plain_spelling(whole)) {}

    // Sign and terms, at least one.
    std::vector<Term> terms(bool& negative) {
        skip_space();
        negative = peek() == '-';
        if (peek() == '-' || peek() == '+') ++at_;
        skip_space();
        if (at_ == text_.size()) {
            refuse(whole_.empty() ? "an empty text" : in_quotes(whole_) + ", which holds no number",
                   dimension_);
        }
        std::vector<Term> terms;
        while (at_ < text_.size()) {
            if (!starts_number(at_)) {
                const bool sign_inside = peek() == '-' || peek() == '+';
                refuse(in_quotes(whole_) + (sign_inside ? ", with a sign in its middle"
                                                        : ", which does not start with a number"),
                       dimension_);
            }
            Term term;
            term.value = number_or_fraction();
            term.written = unit_text();
            term.unit = canonical_unit(term.written);
            terms.push_back(std::move(term));
            skip_space();
        }
        return terms;
    }

  private:
    [[nodiscard]] char peek(std::size_t ahead = 0) const {
        return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
    }
    [[nodiscard]] bool starts_number(std::size_t at) const {
        if (at >= text_.size()) return false;
        return is_digit(text_[at]) || (text_[at] == '.' && at + 1 < text_.size() && is_digit(text_[at + 1]));
    }
    void skip_space() {
        while (at_ < text_.size() && is_space(text_[at_])) ++at_;
    }

    double decimal() {
        double value = 0;
        const char* first = text_.data() + at_;
        const auto [end, error] = std::from_chars(first, text_.data() + text_.size(), value);
        if (error == std::errc::result_out_of_range)
            refuse(in_quotes(whole_) + ", beyond what can be counted", dimension_);
        at_ += static_cast<std::size_t>(end - first);
        if (peek() == ',' && is_digit(peek(1))) {
            refuse(in_quotes(whole_) + ", with a comma in the number", dimension_,
                   "write the decimal point as '.' and leave thousands unmarked");
        }
        return value;
    }

    // Length of a run of digits that begins at `at`, and of "digits/digits".
    [[nodiscard]] std::size_t digits_at(std::size_t at) const {
        std::size_t n = 0;
        while (at + n < text_.size() && is_digit(text_[at + n])) ++n;
        return n;
    }
    [[nodiscard]] bool fraction_at(std::size_t at) const {
        const std::size_t n = digits_at(at);
        return n > 0 && at + n + 1 < text_.size() && text_[at + n] == '/' && is_digit(text_[at + n + 1]);
    }
    double fraction() {
        const double top = decimal();
        ++at_;
        const double bottom = decimal();
        if (bottom == 0) refuse(in_quotes(whole_) + ", a fraction with nothing below the line", dimension_);
        return top / bottom;
    }

    double number_or_fraction() {
        if (fraction_at(at_)) return fraction();
        const bool whole_number = digits_at(at_) > 0;
        const std::size_t start = at_;
        const double value = decimal();
        if (!whole_number || at_ != start + digits_at(start)) return value;
        // "1 1/2" and "1-1/2"
        std::size_t next = at_;
        while (next < text_.size() && is_space(text_[next])) ++next;
        if (next == at_ && peek() == '-') ++next;
        if (next == at_ || !fraction_at(next)) return value;
        at_ = next;
        return value + fraction();
    }

    // Up to the next number. Digits belong to the unit where they are exponents: after "^", after a letter
    // behind a slash ("W/m2K"), or as the last letter of a word ("m3").
    std::string unit_text() {
        std::string unit;
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (starts_number(at_)) {
                const char before = unit.empty() ? ' ' : unit.back();
                const bool ends_word = !is_letter(peek(1)) && !is_digit(peek(1)) && peek(1) != '.';
                const bool exponent =
                    is_digit(c) && (before == '^' || (is_letter(before) &&
                                                      (ends_word || unit.find('/') != std::string::npos)));
                if (!exponent) break;
            }
            if ((c == '-' || c == '+') && starts_number(at_ + 1)) break;
            unit += c;
            ++at_;
        }
        while (!unit.empty() && is_space(unit.back())) unit.pop_back();
        while (!unit.empty() && is_space(unit.front())) unit.erase(unit.begin());
        return unit;
    }

    std::string_view whole_;
    Dimension dimension_;
    std::string text_;
    std::size_t at_ = 0;
};

bool may_be_summed(Dimension dimension) {
    return dimension == length || dimension == mass || dimension == Dimension::time;
}

std::string unit_names_near(const std::string& name, Dimension wanted) {
    std::vector<std::string> names;
    // Those of the wanted dimension first: they win a tie.
    for (const bool of_wanted : {true, false}) {
        for (const Unit& unit : units()) {
            if ((unit.dimension == wanted) != of_wanted) continue;
            for (const std::string_view known : unit.names) names.emplace_back(known);
        }
    }
    const auto near = nearest_word(name, names);
    return near ? fmt::format("did you mean '{}'? ", spelled(*near)) : std::string();
}

// The unit of a term; refuses what is no unit of the wanted dimension.
const Unit& unit_of(const Term& term, std::string_view whole, Dimension wanted) {
    if (term.unit.empty()) {
        // Whether 0.01 is one per cent or a hundredth of it cannot be known.
        if (wanted == share) refuse(in_quotes(whole) + ", a number without a unit", wanted);
        const auto [first, second] = common_units(wanted);
        std::string mend = fmt::format("write the unit behind it, like \"{} {}\"", term.value, first);
        if (!second.empty()) mend += fmt::format(" or \"{} {}\"", term.value, second);
        refuse(in_quotes(whole) + ", a number without a unit", wanted, mend);
    }
    const Unit* unit = find_unit(term.unit, wanted);
    if (unit == nullptr) {
        refuse(fmt::format("{}, with the unknown unit {}", in_quotes(whole), in_quotes(term.written)), wanted,
               unit_names_near(term.unit, wanted) + write_like(wanted));
    }
    if (unit->dimension != wanted) {
        refuse(fmt::format("{}, {}", in_quotes(whole), dimension_name(unit->dimension)), wanted);
    }
    return *unit;
}

}  // namespace

QuantityError::QuantityError(std::string found, std::string expected, std::string mend)
    : std::runtime_error(fmt::format("found {}; expected {}; {}", found, expected, mend)),
      found_(std::move(found)),
      expected_(std::move(expected)),
      mend_(std::move(mend)) {}

double parse_quantity(std::string_view text, Dimension dimension) {
    bool negative = false;
    const std::vector<Term> terms = Reader(text, dimension).terms(negative);
    const double sign = negative ? -1 : 1;

    double si = 0;
    if (dimension == number) {
        if (terms.size() > 1 || !terms.front().unit.empty())
            refuse(in_quotes(text) + ", which is more than a number", number);
        si = sign * terms.front().value;
    } else {
        const Unit* before = nullptr;
        for (const Term& term : terms) {
            const Unit& unit = unit_of(term, text, dimension);
            if (before != nullptr && !may_be_summed(dimension)) {
                refuse(in_quotes(text) + ", which holds two numbers", dimension);
            }
            if (before != nullptr && unit.factor >= before->factor) {
                refuse(in_quotes(text) + ", whose parts do not run from the larger unit to the smaller",
                       dimension);
            }
            si += (sign * term.value + unit.shift) * unit.factor;
            before = &unit;
        }
    }
    if (!std::isfinite(si)) refuse(in_quotes(text) + ", beyond what can be counted", dimension);
    if (dimension == temperature && si < 0) refuse(in_quotes(text) + ", below absolute zero", dimension);
    return si;
}

double parse_length_unit(std::string_view text) {
    const Unit* unit = find_unit(canonical_unit(plain_spelling(text)), length);
    if (unit == nullptr || unit->dimension != length) {
        throw QuantityError(unit == nullptr
                                ? in_quotes(text)
                                : fmt::format("{}, {}", in_quotes(text), dimension_name(unit->dimension)),
                            "a unit of length", R"(write "mm", "cm", "m", "in" or "ft")");
    }
    return unit->factor;
}

}  // namespace evenspit
