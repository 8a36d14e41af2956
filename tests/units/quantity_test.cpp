// SPDX-License-Identifier: MIT
#include "units/quantity.h"

#include <cmath>
#include <numbers>
#include <ostream>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

namespace evenspit {
namespace {

using testing::HasSubstr;
using enum Dimension;

constexpr double pi = std::numbers::pi;

struct Reading {
    const char* text;
    Dimension dimension;
    double si;
};
void PrintTo(const Reading& reading, std::ostream* out) {
    *out << reading.text;
}

class Reads : public testing::TestWithParam<Reading> {};

TEST_P(Reads, InSi) {
    const Reading& reading = GetParam();
    const double si = parse_quantity(reading.text, reading.dimension);
    EXPECT_NEAR(si, reading.si, 1e-15 * std::abs(reading.si)) << reading.text;
}

// Conversion factors: NIST Special Publication 811 (2008), appendix B.8, from memory; all exact by
// definition.
INSTANTIATE_TEST_SUITE_P(
    Quantity, Reads,
    testing::Values(
        // mass
        Reading{"5.9 kg", mass, 5.9}, Reading{"5.9kg", mass, 5.9}, Reading{"  5.9  kg ", mass, 5.9},
        Reading{"700 g", mass, 0.7}, Reading{"250 mg", mass, 250e-6}, Reading{"1.2 t", mass, 1200},
        Reading{"13 lb", mass, 13 * 0.45359237}, Reading{"13 lbs", mass, 13 * 0.45359237},
        Reading{"1 pound", mass, 0.45359237}, Reading{"2 pounds", mass, 2 * 0.45359237},
        Reading{"8 oz", mass, 0.45359237 / 2}, Reading{"8 ounces", mass, 0.45359237 / 2},
        Reading{"12 lb 8 oz", mass, 12.5 * 0.45359237}, Reading{"12lb8oz", mass, 12.5 * 0.45359237},
        Reading{"12 lb. 8 oz.", mass, 12.5 * 0.45359237}, Reading{"1 1/2 lb", mass, 1.5 * 0.45359237},
        Reading{"-12 lb 8 oz", mass, -12.5 * 0.45359237}, Reading{"5 kg 300 g", mass, 5.3},
        Reading{"1e3 g", mass, 1}, Reading{".5 kg", mass, 0.5}, Reading{"+2 kg", mass, 2},
        Reading{"2 KG", mass, 2}, Reading{"0 kg", mass, 0},
        // length
        Reading{"8 mm", length, 0.008}, Reading{"2.5 cm", length, 0.025}, Reading{"1.2 m", length, 1.2},
        Reading{"5/16 in", length, 0.0254 * 5 / 16}, Reading{"1 1/2 in", length, 0.0381},
        Reading{"1-1/2 in", length, 0.0381}, Reading{"1½ in", length, 0.0381},
        Reading{"½ in", length, 0.0127}, Reading{"3 inches", length, 0.0762},
        Reading{"5 ft 2 in", length, 62 * 0.0254}, Reading{"5ft 2in", length, 62 * 0.0254},
        Reading{"12\"", length, 12 * 0.0254}, Reading{"5/16\"", length, 5.0 / 16 * 0.0254},
        Reading{"2' 3\"", length, 27 * 0.0254}, Reading{"2\u2032 3\u2033", length, 27 * 0.0254},
        Reading{"5 ft 2 1/2 in", length, 62.5 * 0.0254}, Reading{"-150 mm", length, -0.15},
        Reading{"−150 mm", length, -0.15}, Reading{"150\u00a0mm", length, 0.15},
        // time
        Reading{"3 h 20 min", Dimension::time, 12000}, Reading{"3h20min", Dimension::time, 12000},
        Reading{"90 minutes", Dimension::time, 5400}, Reading{"2 hours", Dimension::time, 7200},
        Reading{"1 h 1 min 1 s", Dimension::time, 3661},
        // temperature
        Reading{"0 degC", temperature, 273.15}, Reading{"150 °C", temperature, 423.15},
        Reading{"150 C", temperature, 423.15}, Reading{"150 deg C", temperature, 423.15},
        Reading{"-40 degC", temperature, 233.15}, Reading{"-40 degF", temperature, 233.15},
        Reading{"32 degF", temperature, 273.15}, Reading{"212 °F", temperature, 373.15},
        Reading{"300 F", temperature, 759.67 / 1.8}, Reading{"300 K", temperature, 300},
        Reading{"20℃", temperature, 293.15}, Reading{"10 K", temperature_difference, 10},
        Reading{"10 degC", temperature_difference, 10}, Reading{"18 degF", temperature_difference, 10},
        // angle and speed
        Reading{"90 deg", angle, pi / 2}, Reading{"90°", angle, pi / 2},
        Reading{"-90 degrees", angle, -pi / 2}, Reading{"1.5 rad", angle, 1.5},
        Reading{"3 rpm", angular_speed, 0.1 * pi}, Reading{"3 rev/min", angular_speed, 0.1 * pi},
        Reading{"0.3 rad/s", angular_speed, 0.3}, Reading{"18 deg/s", angular_speed, 0.1 * pi},
        // force and torque
        Reading{"25 N", force, 25}, Reading{"2 kgf", force, 19.6133},
        Reading{"1 lbf", force, 0.45359237 * 9.80665}, Reading{"2.5 N m", torque, 2.5},
        Reading{"2.5 Nm", torque, 2.5}, Reading{"2.5 N*m", torque, 2.5}, Reading{"2.5 N·m", torque, 2.5},
        Reading{"2.5 N-m", torque, 2.5}, Reading{"2.5 N.m", torque, 2.5},
        Reading{"25 kgf cm", torque, 25 * 0.0980665}, Reading{"25 kgf·cm", torque, 25 * 0.0980665},
        Reading{"25 kg cm", torque, 25 * 0.0980665}, Reading{"1 kgf m", torque, 9.80665},
        Reading{"20 lbf in", torque, 20 * 0.45359237 * 9.80665 * 0.0254},
        Reading{"20 in-lbf", torque, 20 * 0.45359237 * 9.80665 * 0.0254},
        Reading{"2 lbf ft", torque, 2 * 0.45359237 * 9.80665 * 0.3048},
        Reading{"2 ft-lb", torque, 2 * 0.45359237 * 9.80665 * 0.3048},
        Reading{"16 ozf in", torque, 0.45359237 * 9.80665 * 0.0254},
        // stress, density, heat
        Reading{"101325 Pa", pressure, 101325}, Reading{"120 kPa", pressure, 120e3},
        Reading{"205 MPa", pressure, 205e6}, Reading{"200 GPa", pressure, 200e9},
        Reading{"200 N/mm2", pressure, 200e6},
        Reading{"1 psi", pressure, 0.45359237 * 9.80665 / (0.0254 * 0.0254)},
        Reading{"1060 kg/m3", density, 1060}, Reading{"1060 kg/m³", density, 1060},
        Reading{"1060 kg/m^3", density, 1060}, Reading{"1.06 g/cm3", density, 1060},
        Reading{"66 lb/ft3", density, 66 * 0.45359237 / (0.3048 * 0.3048 * 0.3048)},
        Reading{"25 W/(m2 K)", heat_transfer_coefficient, 25},
        Reading{"25 W/(m² K)", heat_transfer_coefficient, 25},
        Reading{"25 W/(m²·K)", heat_transfer_coefficient, 25},
        Reading{"25 W/m2K", heat_transfer_coefficient, 25},
        Reading{"25 W/m^2 K", heat_transfer_coefficient, 25}, Reading{"0.5 W/(m K)", conductivity, 0.5},
        Reading{"0.5 W/(m·K)", conductivity, 0.5}, Reading{"3500 J/(kg K)", specific_heat, 3500},
        Reading{"3.5 kJ/(kg K)", specific_heat, 3500}, Reading{"4 W", power, 4}, Reading{"2 kW", power, 2000},
        // plain numbers
        Reading{"0.15", number, 0.15}, Reading{"3/4", number, 0.75},
        // shares
        Reading{"1 %", share, 0.01}, Reading{"8.2%", share, 0.082}, Reading{"1/2 %", share, 0.005},
        Reading{"5 per cent", share, 0.05}, Reading{"-3 percent", share, -0.03},
        // stiffness against twist
        Reading{"40 N m/rad", torsional_stiffness, 40}, Reading{"40 Nm/rad", torsional_stiffness, 40},
        Reading{"40 N·m/rad", torsional_stiffness, 40}, Reading{"2 N m/deg", torsional_stiffness, 360 / pi},
        Reading{"2 N m/°", torsional_stiffness, 360 / pi},
        Reading{"9 lbf in/rad", torsional_stiffness, 9 * 0.45359237 * 9.80665 * 0.0254},
        Reading{"9 lbf in/deg", torsional_stiffness, 9 * 0.45359237 * 9.80665 * 0.0254 * 180 / pi}));

struct Refusal {
    const char* text;
    Dimension dimension;
    const char* found;
    const char* expected;
    const char* mend;
};
void PrintTo(const Refusal& refusal, std::ostream* out) {
    *out << refusal.text;
}

class Refuses : public testing::TestWithParam<Refusal> {};

TEST_P(Refuses, SayingWhatAndHow) {
    const Refusal& refusal = GetParam();
    try {
        const double si = parse_quantity(refusal.text, refusal.dimension);
        FAIL() << "'" << refusal.text << "' was read as " << si;
    } catch (const QuantityError& error) {
        EXPECT_EQ(error.found(), refusal.found);
        EXPECT_EQ(error.expected(), refusal.expected);
        EXPECT_THAT(error.mend(), HasSubstr(refusal.mend));
    }
}

INSTANTIATE_TEST_SUITE_P(
    Quantity, Refuses,
    testing::Values(
        Refusal{"13 in", mass, "'13 in', a length", "a mass", R"("5.9 kg")"},
        Refusal{"13 kg", length, "'13 kg', a mass", "a length", R"("8 mm")"},
        Refusal{"2.5 N", torque, "'2.5 N', a force", "a torque", R"("2.5 N m")"},
        Refusal{"10 K", angle, "'10 K', a temperature", "an angle", R"("90 deg")"},
        Refusal{"13", mass, "'13', a number without a unit", "a mass", R"(like "13 kg" or "13 lb")"},
        Refusal{"12 lb 8", mass, "'12 lb 8', a number without a unit", "a mass", R"("8 kg")"},
        Refusal{"5 lbz", mass, "'5 lbz', with the unknown unit 'lbz'", "a mass", "did you mean 'lb'?"},
        Refusal{"5 mpa", pressure, "'5 mpa', with the unknown unit 'mpa'", "a pressure or stress",
                "did you mean 'MPa'?"},
        Refusal{"5 M", length, "'5 M', with the unknown unit 'M'", "a length", "did you mean 'm'?"},
        Refusal{"25 W/(m2 C)", heat_transfer_coefficient, "'25 W/(m2 C)', with the unknown unit 'W/(m2 C)'",
                "a heat transfer coefficient", "did you mean 'W/(m2 K)'?"},
        Refusal{"5 horsepower", power, "'5 horsepower', with the unknown unit 'horsepower'", "a power",
                "write it like"},
        Refusal{"", mass, "an empty text", "a mass", "write it like"},
        Refusal{"  ", mass, "'  ', which holds no number", "a mass", "write it like"},
        Refusal{"-", mass, "'-', which holds no number", "a mass", "write it like"},
        Refusal{"heavy", mass, "'heavy', which does not start with a number", "a mass", "write it like"},
        Refusal{"5 kg -3 g", mass, "'5 kg -3 g', with a sign in its middle", "a mass", "write it like"},
        Refusal{"5,9 kg", mass, "'5,9 kg', with a comma in the number", "a mass", "'.'"},
        Refusal{"1/0 in", length, "'1/0 in', a fraction with nothing below the line", "a length",
                "write it like"},
        Refusal{"8 oz 12 lb", mass,
                "'8 oz 12 lb', whose parts do not run from the larger unit to the smaller", "a mass", ""},
        Refusal{"1 lb 1 lb", mass, "'1 lb 1 lb', whose parts do not run from the larger unit to the smaller",
                "a mass", ""},
        Refusal{"3 h 20 m", Dimension::time, "'3 h 20 m', a length", "a time", "min"},
        Refusal{"3 degC 4 degC", temperature, "'3 degC 4 degC', which holds two numbers", "a temperature",
                ""},
        Refusal{"-300 degC", temperature, "'-300 degC', below absolute zero", "a temperature", ""},
        Refusal{"1e999 kg", mass, "'1e999 kg', beyond what can be counted", "a mass", ""},
        Refusal{"1e308 t", mass, "'1e308 t', beyond what can be counted", "a mass", ""},
        Refusal{"nan kg", mass, "'nan kg', which does not start with a number", "a mass", ""},
        Refusal{"inf kg", mass, "'inf kg', which does not start with a number", "a mass", ""},
        Refusal{"0.15 N", number, "'0.15 N', which is more than a number", "a plain number",
                "without a unit"},
        Refusal{"1 %", number, "'1 %', which is more than a number", "a plain number", "without a unit"},
        Refusal{"1 %", length, "'1 %', a share in per cent", "a length", R"("8 mm")"},
        Refusal{"0.01", share, "'0.01', a number without a unit", "a share in per cent",
                R"(write it like "1 %")"},
        Refusal{"1 % 2 %", share, "'1 % 2 %', which holds two numbers", "a share in per cent", ""},
        Refusal{"40 N m", torsional_stiffness, "'40 N m', a torque", "a stiffness against twist",
                R"("40 N m/rad")"},
        Refusal{"5 kg\n\x01", length, "'5 kg  ', with the unknown unit 'kg  '", "a length", ""}));

TEST(Quantity, QuotesALongTextShortened) {
    try {
        parse_quantity("5 " + std::string(100000, 'x'), mass);
        FAIL();
    } catch (const QuantityError& error) {
        EXPECT_LT(error.found().size(), 200U);
        EXPECT_THAT(error.found(), HasSubstr("…"));
    }
}

TEST(Quantity, ReadsAnyBytesOrRefusesThem) {
    const bool held = rc::check("any text is read or refused", [](const std::string& text) {
        for (const Dimension dimension : {number, mass, Dimension::time, temperature}) {
            try {
                RC_ASSERT(std::isfinite(parse_quantity(text, dimension)));
            } catch (const QuantityError& error) {
                RC_ASSERT(!error.found().empty());
            }
        }
    });
    EXPECT_TRUE(held);
}

TEST(LengthUnit, StandsAlone) {
    EXPECT_EQ(parse_length_unit("mm"), 1e-3);
    EXPECT_EQ(parse_length_unit(" in "), 0.0254);
    EXPECT_EQ(parse_length_unit("metres"), 1);
    EXPECT_THROW(parse_length_unit("kg"), QuantityError);
    EXPECT_THROW(parse_length_unit("1 mm"), QuantityError);
    EXPECT_THROW(parse_length_unit(""), QuantityError);
}

struct Printing {
    double si;
    Dimension dimension;
    const char* metric;
    const char* us;
};
void PrintTo(const Printing& printing, std::ostream* out) {
    *out << printing.metric;
}

class Prints : public testing::TestWithParam<Printing> {};

TEST_P(Prints, InTheUnitOfItsSize) {
    const Printing& printing = GetParam();
    EXPECT_EQ(format_quantity(printing.si, printing.dimension, UnitSystem::metric), printing.metric);
    EXPECT_EQ(format_quantity(printing.si, printing.dimension, UnitSystem::us), printing.us);
}

INSTANTIATE_TEST_SUITE_P(
    Quantity, Prints,
    testing::Values(
        Printing{0.0123, length, "12.3 mm", "0.484 in"}, Printing{0.76, length, "760 mm", "29.9 in"},
        Printing{0, length, "0 mm", "0 in"}, Printing{0.9999, length, "1 m", "39.4 in"},
        Printing{-0.15, length, "-150 mm", "-5.91 in"}, Printing{12, length, "12 m", "39.4 ft"},
        Printing{5.9, mass, "5.9 kg", "13 lb 0 oz"}, Printing{0.46, mass, "460 g", "1 lb 0.2 oz"},
        Printing{0.16, mass, "160 g", "5.64 oz"}, Printing{0.9996, mass, "1 kg", "2 lb 3.3 oz"},
        Printing{0.45359, mass, "454 g", "1 lb 0 oz"}, Printing{40, mass, "40 kg", "88.2 lb"},
        Printing{0, mass, "0 g", "0 oz"}, Printing{12000, Dimension::time, "3 h 20 min", "3 h 20 min"},
        Printing{90, Dimension::time, "1 min 30 s", "1 min 30 s"},
        Printing{59.99, Dimension::time, "1 min", "1 min"}, Printing{1.5, Dimension::time, "1.5 s", "1.5 s"},
        Printing{86400, Dimension::time, "24 h", "24 h"}, Printing{422, temperature, "149 °C", "300 °F"},
        Printing{273.15, temperature, "0 °C", "32 °F"},
        Printing{277.594444444444, temperature, "4.44 °C", "40 °F"},
        Printing{10, temperature_difference, "10 K", "18 °F"}, Printing{pi / 2, angle, "90°", "90°"},
        Printing{0.1 * pi, angular_speed, "3 rpm", "3 rpm"}, Printing{25, force, "25 N", "5.62 lbf"},
        Printing{2.5, torque, "2.5 N m", "22.1 lbf in"}, Printing{20, torque, "20 N m", "14.8 lbf ft"},
        Printing{176e9, pressure, "176 GPa", "25500 ksi"}, Printing{134e6, pressure, "134 MPa", "19.4 ksi"},
        Printing{25e3, pressure, "25 kPa", "3.63 psi"}, Printing{1060, density, "1060 kg/m³", "66.2 lb/ft³"},
        Printing{25, heat_transfer_coefficient, "25 W/(m² K)", "25 W/(m² K)"},
        Printing{0.5, conductivity, "0.5 W/(m K)", "0.5 W/(m K)"},
        Printing{3500, specific_heat, "3.5 kJ/(kg K)", "3.5 kJ/(kg K)"},
        Printing{0.082, share, "8.2 %", "8.2 %"}, Printing{1, share, "100 %", "100 %"},
        Printing{40, torsional_stiffness, "40 N m/rad", "354 lbf in/rad"},
        Printing{2200, power, "2.2 kW", "2.2 kW"}, Printing{0.15, number, "0.15", "0.15"},
        Printing{1.5e-12, number, "1.50e-12", "1.50e-12"}));

TEST(Quantity, PrintsAndReadsBackToThePrintedPrecision) {
    const std::vector<Dimension> all = {number,
                                        length,
                                        mass,
                                        Dimension::time,
                                        temperature,
                                        temperature_difference,
                                        angle,
                                        angular_speed,
                                        force,
                                        torque,
                                        pressure,
                                        density,
                                        heat_transfer_coefficient,
                                        conductivity,
                                        specific_heat,
                                        power,
                                        share,
                                        torsional_stiffness};
    const bool held = rc::check("print, read", [&all] {
        const Dimension dimension = *rc::gen::elementOf(all);
        const UnitSystem system = *rc::gen::element(UnitSystem::metric, UnitSystem::us);
        const int digits = *rc::gen::inRange(1, 16);
        const double mantissa = *rc::gen::inRange(-999999, 999999) / 1e6;
        const int exponent = *rc::gen::inRange(-6, 7);
        double si = mantissa * std::pow(10.0, exponent);
        if (dimension == temperature) si = std::abs(si);
        const std::string text = format_quantity(si, dimension, system, digits);
        // Half a unit of the last digit, of the number as printed: for temperatures that one counts from
        // another zero.
        double size = std::abs(si);
        if (dimension == temperature) {
            size = system == UnitSystem::metric ? std::abs(si - 273.15) : std::abs(si * 1.8 - 459.67) / 1.8;
        }
        // A temperature near absolute zero can round past it.
        if (dimension == temperature && si < 200) return;
        const double allowed = 5.0 * std::pow(10.0, -digits) * size + 1e-12 * std::abs(si) +
                               (dimension == temperature ? 1e-6 : 0);
        RC_LOG() << si << " printed as " << text << " with " << digits << " digits\n";
        RC_ASSERT(std::abs(parse_quantity(text, dimension) - si) <= allowed);
    });
    EXPECT_TRUE(held);
}

TEST(Quantity, EveryExampleReads) {
    for (const Dimension dimension :
         {number, length, mass, Dimension::time, temperature, temperature_difference, angle, angular_speed,
          force, torque, pressure, density, heat_transfer_coefficient, conductivity, specific_heat, power,
          share, torsional_stiffness}) {
        std::string examples(unit_examples(dimension));
        if (dimension == number) examples = '"' + examples + '"';
        int read = 0;
        for (std::size_t open = examples.find('"'); open != std::string::npos;) {
            const std::size_t close = examples.find('"', open + 1);
            ASSERT_NE(close, std::string::npos);
            EXPECT_NO_THROW(parse_quantity(examples.substr(open + 1, close - open - 1), dimension))
                << examples;
            ++read;
            open = examples.find('"', close + 1);
        }
        EXPECT_GE(read, 1) << examples;
        EXPECT_FALSE(dimension_name(dimension).empty());
    }
}

}  // namespace
}  // namespace evenspit
