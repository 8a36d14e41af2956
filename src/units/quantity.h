// SPDX-License-Identifier: MIT
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

namespace evenspit {

/// What a quantity measures. Inside the program every quantity is a double in the SI unit given here.
enum class Dimension {
    number,                     ///< no unit
    share,                      ///< of 1; written in per cent
    length,                     ///< m
    mass,                       ///< kg
    time,                       ///< s
    temperature,                ///< K, absolute
    temperature_difference,     ///< K
    angle,                      ///< rad
    angular_speed,              ///< rad/s
    force,                      ///< N
    torque,                     ///< N m
    torsional_stiffness,        ///< N m/rad
    pressure,                   ///< Pa; stress and modulus too
    density,                    ///< kg/m3
    heat_transfer_coefficient,  ///< W/(m2 K)
    conductivity,               ///< W/(m K)
    specific_heat,              ///< J/(kg K)
    power,                      ///< W
};

enum class UnitSystem { metric, us };

/// A text that is no quantity of the dimension asked for.
///
/// The three parts are sentences' pieces for a Complaint: found "'13 in', a length", expected "a mass", mend
/// "write it like \"5.9 kg\" or \"12 lb 8 oz\"".
class QuantityError : public std::runtime_error {
  public:
    QuantityError(std::string found, std::string expected, std::string mend);

    [[nodiscard]] const std::string& found() const { return found_; }
    [[nodiscard]] const std::string& expected() const { return expected_; }
    [[nodiscard]] const std::string& mend() const { return mend_; }

  private:
    std::string found_, expected_, mend_;
};

/// Reads a quantity as a cook or an engineer writes it, and returns it in SI.
///
/// Takes decimal numbers, "5/16 in", "1 1/2 in", "1 1/2 lb", sums of one dimension written largest first
/// ("12 lb 8 oz", "3 h 20 min", "5 ft 2 in"), a sign in front, and the unit names of each dimension (see
/// unit_examples()). Case matters only where two units would be confused (m, M). Temperatures take K, degC,
/// °C, C, degF, °F, F; offsets are applied for temperature and not for temperature_difference.
///
/// \throws QuantityError if the text is empty, holds no number, has no unit where one is due, names an
/// unknown unit (the
///         nearest known one is offered), measures something else (both dimensions are told), or is not
///         finite.
double parse_quantity(std::string_view text, Dimension dimension);

/// The unit of length that stands alone, as for `scan_unit`: metres in one of it.
///
/// \throws QuantityError for anything but a length unit such as "mm", "cm", "m", "in", "ft".
double parse_length_unit(std::string_view text);

/// "a mass", "a length", "an angle" …
std::string_view dimension_name(Dimension dimension);

/// How one writes such a quantity, e.g. "\"5.9 kg\" or \"12 lb 8 oz\"".
std::string_view unit_examples(Dimension dimension);

/// Prints an SI value in the unit a person would choose for its size and system, with `digits` significant
/// digits: 0.0123 m as "12.3 mm" or "0.484 in", 5.9 kg as "5.9 kg" or "13 lb 0 oz", 422 K as "149 °C" or "300
/// °F".
///
/// The text reads back through parse_quantity() to the printed precision.
std::string format_quantity(double si, Dimension dimension, UnitSystem system, int digits = 3);

}  // namespace evenspit
