// SPDX-License-Identifier: MIT
#include "units/unit_table.h"

#include <fmt/format.h>

#include "units/nearest.h"

namespace evenspit {

using enum Dimension;
using namespace unit_factors;

const std::vector<Unit>& units() {
    static const std::vector<Unit> table = {
        {share, 1e-2, {"%", "percent", "per cent"}},

        {length, 1e-3, {"mm", "millimetre", "millimetres", "millimeter", "millimeters"}},
        {length, 1e-2, {"cm", "centimetre", "centimetres", "centimeter", "centimeters"}},
        {length, 1, {"m", "metre", "metres", "meter", "meters"}, 0, true},
        {length, inch, {"in", "inch", "inches", "\"", "″"}},
        {length, foot, {"ft", "foot", "feet", "'", "′"}},

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

        {torsional_stiffness, 1, {"N m/rad", "Nm/rad"}, 0, true},
        {torsional_stiffness, 1 / degree, {"N m/deg", "Nm/deg", "N m/°", "Nm/°"}, 0, true},
        {torsional_stiffness, pound * gravity * inch, {"lbf in/rad", "lb in/rad"}},
        {torsional_stiffness, pound * gravity * inch / degree, {"lbf in/deg", "lb in/deg"}},

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

std::string spelled(std::string_view name) {
    const auto slash = name.find('/');
    if (slash != std::string_view::npos && name.find(' ', slash) != std::string_view::npos) {
        return fmt::format("{}/({})", name.substr(0, slash), name.substr(slash + 1));
    }
    return std::string(name);
}

namespace {

bool same_but_case(std::string_view a, std::string_view b) {
    return a.size() == b.size() && edit_distance(a, b) == 0;
}

}  // namespace

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

std::array<std::string, 2> common_units(Dimension dimension) {
    switch (dimension) {
        case number:
            return {"", ""};
        case share:
            return {"%", ""};
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
        case torsional_stiffness:
            return {"N m/rad", "N m/deg"};
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

std::string_view dimension_name(Dimension dimension) {
    switch (dimension) {
        case number:
            return "a plain number";
        case share:
            return "a share in per cent";
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
        case torsional_stiffness:
            return "a stiffness against twist";
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
        case share:
            return R"("1 %" or "0.5 %")";
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
        case torsional_stiffness:
            return R"("40 N m/rad" or "0.7 N m/deg")";
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

}  // namespace evenspit
