// SPDX-License-Identifier: MIT
#include "report/food_words.h"

#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/limits.h"
#include "analysis/loads.h"
#include "report/finding_words.h"
#include "report/reader_units.h"
#include "units/fahrenheit.h"

namespace evenspit {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

constexpr double hour = 3600, minute = 60;
const Thing item_0{Thing::Kind::item, 0};

class FoodWordsTest : public testing::Test {
  protected:
    FoodWordsTest() : load_(test::good_load()) { load_.cook = Cook{}; }

    [[nodiscard]] std::string us(const Finding& f) const { return finding_text(f, load_, UnitSystem::us); }
    [[nodiscard]] std::string metric(const Finding& f) const {
        return finding_text(f, load_, UnitSystem::metric);
    }

    Assembly load_;
};

// USDA: 24 h per 4 to 5 lb, 30 min a pound; a bird of 13 lb.
TEST_F(FoodWordsTest, FrozenInsideTellsHowToThaw) {
    load_.items[0].bird = true;
    Finding f{.level = Level::stop,
              .code = Code::frozen_inside,
              .about = item_0,
              .value = 263.15,
              .facts = FrozenFacts{5.9, 3.25 * 24 * hour, 6.5 * hour}};
    EXPECT_EQ(
        metric(f),
        "roast is frozen inside (-10 °C at its coldest). Never spit a frozen bird. Thaw it first: 3 1/2 "
        "days in the refrigerator, or 6 h 30 min in cold water that you change every 30 minutes, and "
        "then cook it at once (USDA).");
    EXPECT_THAT(us(f), HasSubstr("(14 °F at its coldest)"));
    load_.items[0].bird = false;
    f.value.reset();
    f.facts = FrozenFacts{2, 26.5 * hour, 132.2 * minute};
    EXPECT_THAT(us(f), AllOf(HasSubstr("roast is frozen inside."), HasSubstr("a frozen roast"),
                             HasSubstr("26 h 30 min in the refrigerator, or 2 h 15 min in")));
    f.facts = FrozenFacts{8, 96 * hour, 9 * hour};
    EXPECT_THAT(us(f), HasSubstr("4 days in"));
}

TEST_F(FoodWordsTest, UndercookedNamesPlacePeakAndRule) {
    Finding f{.level = Level::stop,
              .code = Code::undercooked,
              .about = item_0,
              .value = fahrenheit_to_k(158),
              .limit = fahrenheit_to_k(165),
              .facts = PlacesFacts{{"breast"}}};
    EXPECT_EQ(us(f),
              "roast does not get hot enough to be safe: its breast reaches 158 °F at most, rest included, "
              "and must reach 165 °F (USDA). Cook it longer or hotter. A thermometer decides, never this "
              "program: stop the motor to measure.");
    EXPECT_THAT(metric(f), AllOf(HasSubstr("70 °C"), HasSubstr("74 °C (USDA)")));
    f.value = fahrenheit_to_k(164.8);
    EXPECT_THAT(us(f), HasSubstr("reaches 164.8 °F")) << "not as the limit that it misses";
    f.facts = PlacesFacts{{"core", "thigh"}};
    EXPECT_THAT(us(f),
                AllOf(HasSubstr("its coldest point reaches"), HasSubstr(". Its thigh falls short too.")));
    f.facts = PlacesFacts{{"stuffing", "core", "thigh"}};
    EXPECT_THAT(us(f), AllOf(HasSubstr("its stuffing reaches"),
                             HasSubstr("Its coldest point and its thigh fall short too.")));
}

TEST_F(FoodWordsTest, CarryOverAsksToMeasureAgain) {
    Finding f{.level = Level::ready,
              .code = Code::by_carry_over,
              .about = item_0,
              .value = fahrenheit_to_k(162),
              .facts = CarryOverFacts{{"breast"}, fahrenheit_to_k(165), 8 * minute}};
    EXPECT_EQ(us(f),
              "roast is safe only after a rest: its breast reaches 165 °F (USDA) up to 8 min after it comes "
              "off. It has 162 °F when it comes off. Measure again after the rest. If it falls short, put it "
              "back on.");
    f.facts = CarryOverFacts{{"breast", "core"}, fahrenheit_to_k(165), 8 * minute};
    EXPECT_THAT(us(f), AllOf(HasSubstr("its breast and its coldest point reach 165"), Not(HasSubstr("162"))));
}

TEST_F(FoodWordsTest, TimesAreToldWithTheirSource) {
    Finding f{.level = Level::care,
              .code = Code::lukewarm,
              .about = item_0,
              .value = 4.75 * hour,
              .limit = limits::lukewarm_care_s,
              .facts = LukewarmFacts{"core", limits::lukewarm_from_k, limits::lukewarm_to_k, false}};
    EXPECT_EQ(us(f),
              "roast stays lukewarm too long: its coldest point takes 4 h 45 min from 40 °F to 140 °F, more "
              "than 4 h (common practice). Cook it hotter, or take a smaller one.");
    EXPECT_THAT(metric(f), HasSubstr("from 4 °C to 60 °C"));
    f.facts = LukewarmFacts{"core", limits::come_up_from_k, limits::come_up_to_k, true};
    EXPECT_THAT(us(f), AllOf(HasSubstr("from 50 °F to 130 °F"), HasSubstr("(USDA)")));

    const Finding late{.level = Level::stop,
                       .code = Code::not_done,
                       .about = item_0,
                       .value = 16 * hour,
                       .facts = PlacesFacts{{"thigh"}}};
    EXPECT_THAT(us(late), HasSubstr("roast is not done after 16 h: its thigh is not as hot as you want it."));

    const Finding wait{
        .level = Level::care, .code = Code::long_wait, .value = 2.5 * hour, .limit = limits::wait_care_s};
    EXPECT_THAT(us(wait), AllOf(HasSubstr("2 h 30 min before it is served"),
                                HasSubstr("more than 2 h (USDA)"), HasSubstr("140 °F or hotter")));
}

TEST_F(FoodWordsTest, ACoolCookerIsNotToldAsItsLimit) {
    Finding f{.level = Level::care,
              .code = Code::cool_cooker,
              .value = fahrenheit_to_k(224.7),
              .limit = limits::cooker_care_k};
    EXPECT_THAT(us(f), AllOf(HasSubstr("at 224.7 °F"), HasSubstr("under the 225 °F that USDA asks")));
    f.value = fahrenheit_to_k(200);
    EXPECT_THAT(metric(f), AllOf(HasSubstr("at 93 °C"), HasSubstr("107 °C")));
}

TEST_F(FoodWordsTest, FuelIsToldByItsNameAndWeight) {
    Finding f{.level = Level::care,
              .code = Code::too_much_fuel,
              .value = 2.6,
              .limit = 2,
              .facts = FuelFacts{2, 0}};
    EXPECT_EQ(metric(f),
              "2.6 kg of charcoal is more than this cook takes: 2 kg is enough. Lay 2 kg or less, and add "
              "some if it fades too soon.");
    f.facts = FuelFacts{2, 20};
    EXPECT_THAT(metric(f), AllOf(HasSubstr("stays 20 °C too hot"), HasSubstr("cannot be choked")));
    EXPECT_THAT(us(f), HasSubstr("stays 36 °F too hot"));
    load_.cook->fire.fuel = FuelKind::wood;
    f.code = Code::too_little_fuel;
    f.value = 1;
    EXPECT_THAT(metric(f), HasSubstr("1 kg of wood will not last: this cook takes about 2 kg."));
    load_.cook->fire.fuel = FuelKind::briquettes;
    f.code = Code::small_bed;
    f.facts = BedFacts{2, 0.45, 0.2};
    EXPECT_THAT(metric(f),
                HasSubstr("2 kg of briquettes is more than this cooker's bed holds. Lay what fits"));
}

TEST(FoodNotes, SayWhoDecidesAndWhatHoldTimesAreWorth) {
    EXPECT_THAT(std::string(thermometer_text()), HasSubstr("stop the motor"));
    EXPECT_THAT(lethality_text(7.24), AllOf(HasSubstr("7.2 tenfold reductions"), HasSubstr("not validated")));
    EXPECT_THAT(lethality_text(1e6), HasSubstr("more than 20 "));
    EXPECT_EQ(place_words("core"), "coldest point");
    EXPECT_EQ(place_words("breast"), "breast");
}

TEST(UnitsOfFood, AreWholeDegreesAndMinutes) {
    const Units us(UnitSystem::us), metric(UnitSystem::metric);
    const double safe_k = fahrenheit_to_k(165);
    EXPECT_EQ(us.temperature(safe_k), "165 °F");
    EXPECT_EQ(metric.temperature(safe_k), "74 °C");
    EXPECT_EQ(metric.temperature(safe_k, {safe_k}), "74 °C");
    EXPECT_EQ(metric.temperature(safe_k - 0.3, {safe_k}), "73.6 °C");
    EXPECT_EQ(metric.temperature(safe_k - 0.02, {safe_k}), "73.87 °C");
    EXPECT_EQ(metric.temperature(273.15 - 0.2), "0 °C");
    EXPECT_EQ(metric.temperature(std::numeric_limits<double>::quiet_NaN()), "not known");
    EXPECT_EQ(us.degrees(10), "18 °F");
    EXPECT_EQ(metric.degrees(10.4), "10 °C");
    EXPECT_EQ(Units::minutes(35 * minute), "35 min");
    EXPECT_EQ(Units::minutes(3 * hour), "3 h");
    EXPECT_EQ(Units::minutes(2 * hour - 10), "2 h");
    EXPECT_EQ(Units::minutes(20.4 * hour), "20 h 24 min");
}

}  // namespace
}  // namespace evenspit
