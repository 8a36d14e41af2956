// SPDX-License-Identifier: MIT
#include "units/quantity.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "units/nearest.h"
#include "units/quote.h"

namespace evenspit {

namespace {

using enum Dimension;

// --- the units ---

// SI = (value + shift) · factor. Factors of the inch, pound, standard gravity and the Fahrenheit scale are
// exact by definition: NIST Special Publication 811 (2008), appendix B (from memory).
struct Unit {
    Dimension dimension;
    double factor;
    std::vector<std::string_view> names;  // the first is the one that is printed and offered
    double shift = 0;
    bool exact_case = false;  // another case would be another unit: mg and Mg, MPa and mPa
};

constexpr double inch = 0.0254;
constexpr double foot = 12 * inch;
constexpr double pound = 0.45359237;
constexpr double ounce = pound / 16;
constexpr double gravity = 9.80665;
constexpr double degree = std::numbers::pi / 180;
constexpr double psi = pound * gravity / (inch * inch);
constexpr double celsius_zero_k = 273.15;
constexpr double fahrenheit_zero_shift = 459.67;

const std::vector<Unit>& units() {
    static const std::vector<Unit> table = {
        {length, 1e-3, {"mm", "millimetre", "millimetres", "millimeter", "millimeters"}},
        {length, 1e-2, {"cm", "centimetre", "centimetres", "centimeter", "centimeters"}},
        {length, 1, {"m", "metre", "metres", "meter", "meters"}, 0, true},
        {length, inch, {"in", "inch", "inches"}},
        {length, foot, {"ft", "foot", "feet"}},

        {mass, 1, {"kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"}},
        {mass, 1e-3, {"g", "gram", "grams"}},
        {mass, 1e-6, {"mg", "milligram", "milligrams"}, 0, true},
        {mass, 1e3, {"t", "tonne", "tonnes"}},
        {mass, pound, {"lb", "lbs", "pound", "pounds"}},
        {mass, ounce, {"oz", "ounce", "ounces"}},

        {Dimension::time, 3600, {"h", "hr", "hrs", "hour", "hours"}},
        {Dimension::time, 60, {"min", "mins", "minute", "minutes"}},
        {Dimension::time, 1, {"s", "sec", "secs", "second", "seconds"}},

        {temperature, 1, {"degC", "°C", "C", "℃", "deg C", "° C", "celsius"}, celsius_zero_k},
        {temperature, 5.0 / 9, {"degF", "°F", "F", "℉", "deg F", "° F", "fahrenheit"}, fahrenheit_zero_shift},
        {temperature, 1, {"K", "kelvin"}},
        {temperature_difference, 1, {"K", "kelvin", "degC", "°C", "C", "℃", "deg C", "° C"}},
        {temperature_difference, 5.0 / 9, {"degF", "°F", "F", "℉", "deg F", "° F"}},

        {angle, degree, {"deg", "°", "degree", "degrees"}},
        {angle, 1, {"rad", "radian", "radians"}},

        {angular_speed, 2 * std::numbers::pi / 60, {"rpm", "r/min", "rev/min"}},
        {angular_speed, 1, {"rad/s"}},
        {angular_speed, degree, {"deg/s", "°/s"}},

        {force, 1, {"N", "newton", "newtons"}},
        {force, gravity, {"kgf"}},
        {force, pound * gravity, {"lbf"}},

        {torque, 1, {"N m", "Nm"}, 0, true},
        {torque, 1e-2, {"N cm", "Ncm"}, 0, true},
        {torque, 1e-3, {"mN m", "mNm", "N mm", "Nmm"}, 0, true},
        {torque, gravity, {"kgf m", "kgfm", "kg m"}},
        {torque, gravity * 1e-2, {"kgf cm", "kgfcm", "kg cm"}},
        {torque, pound * gravity * inch, {"lbf in", "in lbf", "lb in", "in lb"}},
        {torque, pound * gravity * foot, {"lbf ft", "ft lbf", "lb ft", "ft lb"}},
        {torque, ounce * gravity * inch, {"ozf in", "in ozf", "oz in", "in oz"}},

        {pressure, 1, {"Pa", "pascal", "N/m2"}},
        {pressure, 1e3, {"kPa", "kN/m2"}},
        {pressure, 1e6, {"MPa", "N/mm2"}, 0, true},
        {pressure, 1e9, {"GPa"}},
        {pressure, psi, {"psi", "lbf/in2"}},
        {pressure, psi * 1e3, {"ksi"}},

        {density, 1, {"kg/m3"}},
        {density, 1e3, {"g/cm3", "kg/dm3", "kg/l", "g/ml"}},
        {density, pound / (foot * foot * foot), {"lb/ft3"}},

        {heat_transfer_coefficient, 1, {"W/m2 K", "W/K m2", "W/m2K", "W/m2/K"}},
        {conductivity, 1, {"W/m K", "W/K m", "W/mK", "W/m/K"}},
        {specific_heat, 1, {"J/kg K", "J/kgK", "J/kg/K"}},
        {specific_heat, 1e3, {"kJ/kg K", "kJ/kgK", "kJ/kg/K"}},

        {power, 1, {"W", "watt", "watts"}},
        {power, 1e3, {"kW", "kilowatt", "kilowatts"}},
    };
    return table;
}

// How a unit's name is written for a reader, where that differs from its canonical form.
std::string spelled(std::string_view name) {
    const auto slash = name.find('/');
    if (slash != std::string_view::npos && name.find(' ', slash) != std::string_view::npos) {
        return fmt::format("{}/({})", name.substr(0, slash), name.substr(slash + 1));
    }
    return std::string(name);
}

bool same_but_case(std::string_view a, std::string_view b) {
    return a.size() == b.size() && edit_distance(a, b) == 0;
}

// The unit of that canonical name; of the wanted dimension if the name serves several. Null if there is none.
const Unit* find_unit(std::string_view name, Dimension wanted) {
    for (const bool exact : {true, false}) {
        const Unit* found = nullptr;
        for (const Unit& unit : units()) {
            if (!exact && unit.exact_case) continue;
            for (const std::string_view known : unit.names) {
                if (exact ? name != known : !same_but_case(name, known)) continue;
                if (unit.dimension == wanted) return &unit;
                if (found == nullptr) found = &unit;
            }
        }
        if (found != nullptr) return found;
    }
    return nullptr;
}

// --- words for messages ---

std::string write_like(Dimension dimension) {
    if (dimension == number) return "write it without a unit and without quotes, like 0.15";
    return fmt::format("write it like {}", unit_examples(dimension));
}

[[noreturn]] void refuse(std::string found, Dimension dimension, std::string mend = {}) {
    throw QuantityError(std::move(found), std::string(dimension_name(dimension)),
                        mend.empty() ? write_like(dimension) : std::move(mend));
}

// The units that a message shows first: one for each system.
std::array<std::string, 2> common_units(Dimension dimension) {
    switch (dimension) {
        case number:
            return {"", ""};
        case length:
            return {"mm", "in"};
        case mass:
            return {"kg", "lb"};
        case Dimension::time:
            return {"min", "h"};
        case temperature:
            return {"degC", "degF"};
        case temperature_difference:
            return {"K", "degF"};
        case angle:
            return {"deg", "rad"};
        case angular_speed:
            return {"rpm", "rad/s"};
        case force:
            return {"N", "lbf"};
        case torque:
            return {"N m", "lbf in"};
        case pressure:
            return {"kPa", "psi"};
        case density:
            return {"kg/m3", "lb/ft3"};
        case heat_transfer_coefficient:
            return {"W/(m2 K)", ""};
        case conductivity:
            return {"W/(m K)", ""};
        case specific_heat:
            return {"J/(kg K)", "kJ/(kg K)"};
        case power:
            return {"W", "kW"};
    }
    return {"", ""};
}

// --- reading ---

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

// --- printing ---

// Decimal digits behind the point that leave `digits` significant ones.
int decimals_for(double value, int digits) {
    if (value == 0) return 0;
    // Printed first, so that 9.996 counts as the 10.0 it becomes.
    const std::string scientific = fmt::format("{:.{}e}", std::abs(value), digits - 1);
    const int exponent = std::atoi(scientific.c_str() + scientific.find('e') + 1);
    return digits - 1 - exponent;
}

double rounded(double value, int digits) {
    return std::strtod(fmt::format("{:.{}e}", value, digits - 1).c_str(), nullptr);
}

// Without an exponent where that stays readable, and without zeros that say nothing.
std::string significant(double value, int digits) {
    const int decimals = decimals_for(value, digits);
    if (decimals > digits + 6 || decimals < -9) return fmt::format("{:.{}e}", value, digits - 1);
    std::string text = fmt::format("{:.{}f}", rounded(value, digits), std::max(decimals, 0));
    if (text.find('.') != std::string::npos) {
        while (text.back() == '0') text.pop_back();
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

struct Scale {
    double from;            // least size, SI, from which this unit is used
    std::string_view unit;  // as printed, with its space
    double factor;
};

std::string scaled(double si, int digits, std::initializer_list<Scale> scales) {
    const Scale* chosen = scales.begin();
    for (const Scale& scale : scales) {
        // Rounded first, so that 999.9 g becomes 1 kg and not 1000 g.
        if (rounded(std::abs(si), digits) >= scale.from * (1 - 1e-12)) chosen = &scale;
    }
    return significant(si / chosen->factor, digits) + std::string(chosen->unit);
}

// "12 lb 8 oz": a number of small units told in large and small ones. Rounded before it is split, so that no
// "12 lb 16 oz" comes out.
std::string split(double small_units, int ratio, std::string_view large, std::string_view small, int digits,
                  bool keep_zero) {
    const double total = rounded(std::abs(small_units), digits);
    const double whole = std::floor(total / ratio + 1e-12);
    // The rest keeps the total's decimals; its own digits are fewer.
    const int decimals = std::max(0, decimals_for(total, digits));
    std::string rest = fmt::format("{:.{}f}", std::max(0.0, total - whole * ratio), decimals);
    if (rest.find('.') != std::string::npos) {
        while (rest.back() == '0') rest.pop_back();
        if (rest.back() == '.') rest.pop_back();
    }
    std::string text = fmt::format("{}{:.0f} {}", small_units < 0 ? "-" : "", whole, large);
    if (rest != "0" || keep_zero) text += fmt::format(" {} {}", rest, small);
    return text;
}

std::string format_mass(double kg, UnitSystem system, int digits) {
    if (system == UnitSystem::metric) return scaled(kg, digits, {{0, " g", 1e-3}, {1, " kg", 1}});
    const double total_oz = rounded(std::abs(kg) / ounce, digits);
    if (total_oz < 16) return significant(kg / ounce, digits) + " oz";
    if (decimals_for(total_oz, digits) < 0) return significant(kg / pound, digits) + " lb";
    return split(kg / ounce, 16, "lb", "oz", digits, true);
}

std::string format_time(double s, int digits) {
    if (rounded(std::abs(s), digits) < 60) return significant(s, digits) + " s";
    if (rounded(std::abs(s), digits) < 3600) return split(s, 60, "min", "s", digits, false);
    if (decimals_for(s / 60, digits) < 0) return significant(s / 3600, digits) + " h";
    return split(s / 60, 60, "h", "min", digits, false);
}

std::string format_temperature(double kelvin, UnitSystem system, int digits) {
    const double value =
        system == UnitSystem::metric ? kelvin - celsius_zero_k : kelvin * 1.8 - fahrenheit_zero_shift;
    // The difference of two large numbers: what is left below a millionth of a degree is rounding.
    const double clean = std::round(value * 1e6) / 1e6;
    return significant(clean, digits) + (system == UnitSystem::metric ? " °C" : " °F");
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

std::string_view dimension_name(Dimension dimension) {
    switch (dimension) {
        case number:
            return "a plain number";
        case length:
            return "a length";
        case mass:
            return "a mass";
        case Dimension::time:
            return "a time";
        case temperature:
            return "a temperature";
        case temperature_difference:
            return "a temperature difference";
        case angle:
            return "an angle";
        case angular_speed:
            return "a speed of turning";
        case force:
            return "a force";
        case torque:
            return "a torque";
        case pressure:
            return "a pressure or stress";
        case density:
            return "a density";
        case heat_transfer_coefficient:
            return "a heat transfer coefficient";
        case conductivity:
            return "a thermal conductivity";
        case specific_heat:
            return "a specific heat";
        case power:
            return "a power";
    }
    return "a quantity";
}

std::string_view unit_examples(Dimension dimension) {
    switch (dimension) {
        case number:
            return "0.15";
        case length:
            return R"("8 mm", "12.5 cm" or "5/16 in")";
        case mass:
            return R"("5.9 kg" or "12 lb 8 oz")";
        case Dimension::time:
            return R"("3 h 20 min" or "45 min")";
        case temperature:
            return R"("150 degC" or "300 degF")";
        case temperature_difference:
            return R"("10 K" or "18 degF")";
        case angle:
            return R"("90 deg" or "1.57 rad")";
        case angular_speed:
            return R"("3 rpm" or "0.3 rad/s")";
        case force:
            return R"("25 N" or "5 lbf")";
        case torque:
            return R"("2.5 N m", "25 kgf cm" or "20 lbf in")";
        case pressure:
            return R"("120 kPa", "200 GPa" or "18 psi")";
        case density:
            return R"("1060 kg/m3" or "66 lb/ft3")";
        case heat_transfer_coefficient:
            return R"x("25 W/(m2 K)")x";
        case conductivity:
            return R"x("0.5 W/(m K)")x";
        case specific_heat:
            return R"x("3500 J/(kg K)" or "3.5 kJ/(kg K)")x";
        case power:
            return R"("4 W" or "2 kW")";
    }
    return "";
}

std::string format_quantity(double si, Dimension dimension, UnitSystem system, int digits) {
    digits = std::max(digits, 1);
    const bool metric = system == UnitSystem::metric;
    switch (dimension) {
        case number:
            return significant(si, digits);
        case length:
            return metric ? scaled(si, digits, {{0, " mm", 1e-3}, {1, " m", 1}})
                          : scaled(si, digits, {{0, " in", inch}, {10 * foot, " ft", foot}});
        case mass:
            return format_mass(si, system, digits);
        case Dimension::time:
            return format_time(si, digits);
        case temperature:
            return format_temperature(si, system, digits);
        case temperature_difference:
            return significant(metric ? si : si * 1.8, digits) + (metric ? " K" : " °F");
        case angle:
            return significant(si / degree, digits) + "°";
        case angular_speed:
            return significant(si * 60 / (2 * std::numbers::pi), digits) + " rpm";
        case force:
            return significant(metric ? si : si / (pound * gravity), digits) + (metric ? " N" : " lbf");
        case torque:
            if (metric) return significant(si, digits) + " N m";
            return scaled(si, digits,
                          {{0, " lbf in", pound * gravity * inch}, {10, " lbf ft", pound * gravity * foot}});
        case pressure:
            return metric
                       ? scaled(si, digits,
                                {{0, " Pa", 1}, {1e3, " kPa", 1e3}, {1e6, " MPa", 1e6}, {1e9, " GPa", 1e9}})
                       : scaled(si, digits, {{0, " psi", psi}, {1e4 * psi, " ksi", 1e3 * psi}});
        case density:
            return metric ? significant(si, digits) + " kg/m³"
                          : significant(si * foot * foot * foot / pound, digits) + " lb/ft³";
        case heat_transfer_coefficient:
            return significant(si, digits) + " W/(m² K)";
        case conductivity:
            return significant(si, digits) + " W/(m K)";
        case specific_heat:
            return scaled(si, digits, {{0, " J/(kg K)", 1}, {1e3, " kJ/(kg K)", 1e3}});
        case power:
            return scaled(si, digits, {{0, " W", 1}, {1e3, " kW", 1e3}});
    }
    return significant(si, digits);
}

}  // namespace evenspit
