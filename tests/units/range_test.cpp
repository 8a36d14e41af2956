// SPDX-License-Identifier: MIT
#include "units/range.h"

#include <gtest/gtest.h>

namespace evenspit {
namespace {

using enum Dimension;

std::string complaint(std::string_view text, Dimension dimension, Range range) {
    try {
        parse_quantity_within(text, dimension, range);
    } catch (const QuantityError& error) {
        return error.what();
    }
    return "no complaint";
}

TEST(Range, TakesWhatIsInIt) {
    EXPECT_EQ(parse_quantity_within("-3 mm", length, Range::any), -0.003);
    EXPECT_EQ(parse_quantity_within("0 g", mass, Range::not_negative), 0);
    EXPECT_EQ(parse_quantity_within("2 kg", mass, Range::positive), 2);
    EXPECT_EQ(complaint("0 g", mass, Range::positive), "found '0 g'; expected a mass above zero; ");
    EXPECT_EQ(complaint("-1 g", mass, Range::not_negative), "found '-1 g'; expected a mass not below zero; ");
    EXPECT_TRUE(complaint("13 in", mass, Range::positive)
                    .starts_with("found '13 in', a length; expected a mass above zero; write it like"));
}

TEST(Range, RefusesSizesThatNothingHas) {
    EXPECT_EQ(complaint("1e308 kg", mass, Range::positive),
              "found '1e308 kg'; expected a mass of at most 100000 kg; check the number and its unit");
    EXPECT_EQ(complaint("-1e9 m", length, Range::any),
              "found '-1e9 m'; expected a length of at most 1000 m; check the number and its unit");
    EXPECT_EQ(complaint("1e-308 mm", length, Range::positive),
              "found '1e-308 mm'; expected a length of at least 0.001 mm; check the number and its unit");
    // A place may be as near to 0 as one likes.
    EXPECT_GT(parse_quantity_within("1e-300 mm", length, Range::any), 0);
}

TEST(Range, HoldsEveryExampleThatMessagesShow) {
    for (const Dimension dimension :
         {number, length, mass, Dimension::time, temperature, temperature_difference, angle, angular_speed,
          force, torque, pressure, density, heat_transfer_coefficient, conductivity, specific_heat, power,
          share, torsional_stiffness}) {
        const auto [least, greatest] = sensible_sizes(dimension);
        EXPECT_LT(least, greatest);
        const std::string examples(unit_examples(dimension));
        const std::size_t open = examples.find('"');
        const std::string first = open == std::string::npos
                                      ? examples
                                      : examples.substr(open + 1, examples.find('"', open + 1) - open - 1);
        EXPECT_GT(parse_quantity_within(first, dimension, Range::positive), 0) << first;
    }
}

}  // namespace
}  // namespace evenspit
