// SPDX-License-Identifier: MIT
#include "scan/scan_unit.h"

#include <optional>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "units/error.h"

namespace evenspit::scan {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

// A bird 0.4 m across of 5 litres, in units of which one is `metres`.
UnitQuestion bird_in(double metres) {
    return {.length = 0.4 / metres, .volume = 5e-3 / (metres * metres * metres), .file = "goose.ply"};
}

std::string complaint(const UnitQuestion& question) {
    try {
        decide_unit(question);
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

TEST(ScanUnit, StatedUnitIsTakenWithoutAWord) {
    UnitQuestion question = bird_in(0.001);
    question.metres_per_unit = 0.001;
    const UnitAnswer answer = decide_unit(question);
    EXPECT_EQ(answer.metres_per_unit, 0.001);
    EXPECT_FALSE(answer.guessed);
}

TEST(ScanUnit, MetresAndMillimetresAreToldFromSize) {
    for (const double metres : {1.0, 0.001}) {
        const UnitAnswer answer = decide_unit(bird_in(metres));
        EXPECT_EQ(answer.metres_per_unit, metres);
        EXPECT_TRUE(answer.guessed);
    }
}

TEST(ScanUnit, CentimetresAndInchesLookAlikeWithoutAWeight) {
    EXPECT_THAT(complaint(bird_in(0.01)),
                AllOf(HasSubstr("goose.ply"), HasSubstr("scan_unit"), HasSubstr("centimetres or inches")));
}

TEST(ScanUnit, WeightTellsCentimetresFromInches) {
    for (const double metres : {0.01, 0.0254}) {
        UnitQuestion question = bird_in(metres);
        question.mass_kg = 5;
        EXPECT_EQ(decide_unit(question).metres_per_unit, metres);
    }
}

TEST(ScanUnit, ThreeMetresAndThreeMillimetresAreAskedAbout) {
    for (const double length : {3.0, 0.003}) {
        UnitQuestion question{.length = length, .metres_per_unit = 1.0, .file = "x"};
        EXPECT_THAT(complaint(question), AllOf(HasSubstr("m across"), HasSubstr("between 6 cm and 2.5 m")));
    }
}

TEST(ScanUnit, WrongStatedUnitIsNamed) {
    UnitQuestion question = bird_in(0.01);
    question.metres_per_unit = 1;
    question.mass_kg = 5;
    EXPECT_THAT(complaint(question),
                AllOf(HasSubstr("40.0 m across"), HasSubstr("this looks like centimetres: name the unit")));
}

TEST(ScanUnit, WeightThatFitsNoUnitIsTold) {
    UnitQuestion question = bird_in(1);
    question.mass_kg = 500;
    EXPECT_THAT(complaint(question), HasSubstr("as dense as meat"));
}

TEST(ScanUnit, WeightIsDoubtedWhereTheSizeIsRight) {
    for (const std::optional<double> unit : {std::optional<double>(1.0), std::optional<double>()}) {
        UnitQuestion question = bird_in(1);
        question.metres_per_unit = unit;
        question.mass_kg = 34;
        EXPECT_THAT(complaint(question), HasSubstr("look at the weight and its unit"));
    }
    UnitQuestion question = bird_in(1);
    question.metres_per_unit = 1;
    question.mass_kg = 34;
    EXPECT_THAT(complaint(question), AllOf(HasSubstr("0.400 m across"), HasSubstr("about 6800 kg/m3")));
    question.length = 40;
    question.volume = 5e3;
    EXPECT_THAT(complaint(question), AllOf(HasSubstr("40.0 m across"), Not(HasSubstr("look at the weight"))));
}

TEST(LikelyUnit, IsThatInWhichABodyIsAsLongAsARoast) {
    EXPECT_EQ(likely_unit(300), "mm");
    EXPECT_EQ(likely_unit(45), "cm");
    EXPECT_EQ(likely_unit(14), "in");
    EXPECT_EQ(likely_unit(0.2), "m");
}

}  // namespace
}  // namespace evenspit::scan
