// SPDX-License-Identifier: MIT
#include "cook/food_findings.h"

#include <algorithm>
#include <stdexcept>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/limits.h"
#include "analysis/loads.h"
#include "units/fahrenheit.h"

namespace evenspit::cook {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr double hour = 3600;

// USDA FSIS, "Safe Minimum Internal Temperature Chart".
const double poultry_k = fahrenheit_to_k(165);

/// A cook in which all is well: on for three hours, off as the last place gets safe, then rested.
class FoodFindings : public testing::Test {
  protected:
    FoodFindings() : load_(test::good_load()) {
        load_.cook = Cook{};
        load_.cook->cooker_temperature_k = fahrenheit_to_k(300);
        load_.cook->start_temperature_k = 277;
        course_.places = {{.item = 0,
                           .kind = PlaceKind::breast,
                           .name = "breast",
                           .safe_k = poultry_k,
                           .pull_k = poultry_k},
                          {.item = 0, .kind = PlaceKind::core, .name = "core", .safe_k = poultry_k}};
        const PlaceCourse safe{.pull_s = 2.9 * hour,
                               .safe_s = 2.9 * hour,
                               .peak_k = fahrenheit_to_k(170),
                               .peak_s = 3.2 * hour,
                               .lukewarm_s = 2 * hour,
                               .come_up_s = 1.5 * hour};
        course_.place_courses = {safe, safe};
        for (int n = 0; n <= 4; ++n) {
            RoastMoment moment;
            moment.time_s = n * hour;
            moment.resting = n == 4;
            moment.shown_k = fahrenheit_to_k(300);
            moment.items.resize(1);
            moment.items[0].coldest_k = 277;
            moment.places_k = {fahrenheit_to_k(60 + 35 * n), fahrenheit_to_k(60 + 34 * n)};
            course_.moments.push_back(std::move(moment));
        }
        course_.off_s = 3 * hour;
    }

    [[nodiscard]] std::vector<Finding> found(const std::optional<Range>& off = {}) const {
        return food_findings(load_, course_, off);
    }
    [[nodiscard]] std::vector<Code> codes(const std::optional<Range>& off = {}) const {
        std::vector<Code> all;
        for (const Finding& f : found(off)) all.push_back(f.code);
        return all;
    }
    [[nodiscard]] Finding only() const {
        const std::vector<Finding> all = found();
        if (all.size() != 1) throw std::logic_error("not one finding");
        return all.front();
    }
    void close_the_cooker() {
        CookerSurface coals, wall;
        coals.shape = BoxShape{{0.1, -0.2, -0.3}, {0.6, 0.2, -0.2}};
        coals.fire = true;
        wall.shape = RevolvedShape{{0.34, 0, 0}, {{0.30, 0}, {0.25, 0.15}, {0, 0.26}}};
        load_.cooker.surfaces = {coals, wall};
    }

    Assembly load_;
    RoastCourse course_;
};

TEST_F(FoodFindings, AreNoneWhereAllIsWell) {
    EXPECT_THAT(found(Range{2.8 * hour, 3 * hour, 3.5 * hour}), IsEmpty());
}

TEST_F(FoodFindings, IceInsideIsAStop) {
    course_.moments[0].items[0].coldest_k = 263.15;
    course_.moments[0].items[0].ice_share = 0.5;
    const Finding f = only();
    EXPECT_EQ(f.level, Level::stop);
    EXPECT_EQ(f.code, Code::frozen_inside);
    EXPECT_EQ(f.about, (Thing{Thing::Kind::item, 0}));
    EXPECT_EQ(f.value, 263.15);
    // 2 kg are 4.41 lb: 24 hours for every 4 lb, 30 minutes a pound.
    EXPECT_NEAR(f.get<FrozenFacts>().mass_kg, 2, 1e-9);
    EXPECT_NEAR(f.get<FrozenFacts>().refrigerator_s, 4.409 / 4 * 24 * hour, 100);
    EXPECT_NEAR(f.get<FrozenFacts>().cold_water_s, 4.409 / 2 * hour, 10);
}

TEST_F(FoodFindings, ThereIsIceWhereTheFileTellsIt) {
    load_.cook->start_temperature_k = 263.15;
    EXPECT_EQ(only().code, Code::frozen_inside);
    // Fresh poultry is kept down to 26 °F (−3.3 °C), and freezes from −2.8 °C on.
    load_.cook->start_temperature_k = 273.15 - 1;
    EXPECT_THAT(found(), IsEmpty());
    course_.moments.clear();
    load_.cook->start_temperature_k = 250;
    EXPECT_EQ(only().value, 250);
}

TEST_F(FoodFindings, APeakUnderWhatIsSafeIsAStop) {
    course_.place_courses[0] = {.pull_s = 2.9 * hour, .peak_k = fahrenheit_to_k(158), .peak_s = 3.2 * hour};
    const Finding f = only();
    EXPECT_EQ(f.level, Level::stop);
    EXPECT_EQ(f.code, Code::undercooked);
    EXPECT_EQ(f.value, fahrenheit_to_k(158));
    EXPECT_EQ(f.limit, poultry_k);
    EXPECT_THAT(f.get<PlacesFacts>().places, ElementsAre("breast"));
}

TEST_F(FoodFindings, TheWorstPlaceComesFirstAndACoreThatIsAPartsIsNotToldTwice) {
    course_.places.push_back(
        {.item = 0, .kind = PlaceKind::stuffing, .name = "stuffing", .safe_k = poultry_k});
    const auto under = [](double fahrenheit) { return PlaceCourse{.peak_k = fahrenheit_to_k(fahrenheit)}; };
    course_.place_courses = {under(160.2), under(160), under(150)};
    Finding f = only();
    EXPECT_THAT(f.get<PlacesFacts>().places, ElementsAre("stuffing", "breast"));
    EXPECT_EQ(f.value, fahrenheit_to_k(150));
    course_.place_courses = {under(163), under(140), under(150)};
    f = only();
    EXPECT_THAT(f.get<PlacesFacts>().places, ElementsAre("core", "stuffing", "breast"));
    EXPECT_EQ(f.value, fahrenheit_to_k(140));
}

TEST_F(FoodFindings, EachKindHasItsOwnRule) {
    const double whole_cut_k = fahrenheit_to_k(145);
    for (RoastPlace& place : course_.places) place.safe_k = whole_cut_k;
    for (PlaceCourse& place : course_.place_courses) place.peak_k = fahrenheit_to_k(150);
    EXPECT_THAT(found(), IsEmpty());
    for (PlaceCourse& place : course_.place_courses) place.peak_k = fahrenheit_to_k(144);
    EXPECT_EQ(only().limit, whole_cut_k);
}

TEST_F(FoodFindings, SafeOnlyByCarryOverIsTold) {
    course_.places[0].pull_k = fahrenheit_to_k(162);
    course_.place_courses[0].safe_s = 3.1 * hour;
    const Finding f = only();
    EXPECT_EQ(f.level, Level::ready);
    EXPECT_EQ(f.code, Code::by_carry_over);
    EXPECT_FALSE(f.limit) << "or it would pass as a figure that is in order";
    EXPECT_EQ(f.value, fahrenheit_to_k(60 + 35 * 3)) << "the last moment before the rest";
    const auto& facts = f.get<CarryOverFacts>();
    EXPECT_THAT(facts.places, ElementsAre("breast"));
    EXPECT_EQ(facts.safe_k, poultry_k);
    EXPECT_NEAR(facts.after_s, 360, 1e-6);
}

// Over 4 h between 40 and 140 °F: common practice. 6 h between 50 and 130 °F: USDA FSIS, Revised Appendix A.
TEST_F(FoodFindings, LongLukewarmAsksForCare) {
    course_.place_courses[1].lukewarm_s = 4 * hour;
    EXPECT_THAT(found(), IsEmpty());
    course_.place_courses[1].lukewarm_s = 5 * hour;
    Finding f = only();
    EXPECT_EQ(f.level, Level::care);
    EXPECT_EQ(f.code, Code::lukewarm);
    EXPECT_EQ(f.value, 5 * hour);
    EXPECT_EQ(f.limit, 4 * hour);
    EXPECT_EQ(f.get<LukewarmFacts>().place, "core");
    EXPECT_DOUBLE_EQ(f.get<LukewarmFacts>().to_k, fahrenheit_to_k(140));
    course_.place_courses[0].come_up_s = 9 * hour;  // the worse of the two
    f = only();
    EXPECT_EQ(f.value, 9 * hour);
    EXPECT_EQ(f.limit, 6 * hour);
    EXPECT_TRUE(f.get<LukewarmFacts>().published);
    EXPECT_DOUBLE_EQ(f.get<LukewarmFacts>().from_k, fahrenheit_to_k(50));
}

// USDA FSIS, "Smoking Meat and Poultry": 225 to 300 °F.
TEST_F(FoodFindings, ACookerUnder225FahrenheitAsksForCare) {
    load_.cook->cooker_temperature_k = fahrenheit_to_k(225);
    EXPECT_THAT(found(), IsEmpty());
    load_.cook->cooker_temperature_k = fahrenheit_to_k(200);
    const Finding f = only();
    EXPECT_EQ(f.level, Level::care);
    EXPECT_EQ(f.code, Code::cool_cooker);
    EXPECT_EQ(f.value, fahrenheit_to_k(200));
    EXPECT_DOUBLE_EQ(*f.limit, fahrenheit_to_k(225));
}

TEST_F(FoodFindings, ACookerThatIsNotHeldIsJudgedByWhatItShows) {
    for (RoastMoment& moment : course_.moments)
        moment.shown_k = fahrenheit_to_k(moment.time_s < hour ? 90 : 210);
    EXPECT_THAT(found(), IsEmpty()) << "in the open a thermometer shows the weather";
    close_the_cooker();
    EXPECT_EQ(only().code, Code::cool_cooker);
    EXPECT_NEAR(*only().value, fahrenheit_to_k(210), 1e-9) << "not how it begins";
    for (RoastMoment& moment : course_.moments)
        moment.shown_k = fahrenheit_to_k(moment.time_s < hour ? 90 : 280);
    EXPECT_THAT(found(), IsEmpty());
}

TEST_F(FoodFindings, ACookThatIsNeverDoneIsAStop) {
    course_.off_s.reset();
    course_.place_courses[0].pull_s.reset();
    course_.moments.pop_back();
    const Finding f = only();
    EXPECT_EQ(f.level, Level::stop);
    EXPECT_EQ(f.code, Code::not_done);
    EXPECT_EQ(f.value, 3 * hour);
    EXPECT_THAT(f.get<PlacesFacts>().places, ElementsAre("breast"));
}

// USDA: cooked food stands about for two hours at most. Nothing of the load is wrong: it is kept hot.
TEST_F(FoodFindings, ALongWaitForDinnerIsTold) {
    const Range off{2 * hour, 3 * hour, 4.5 * hour};
    EXPECT_THAT(codes(off), IsEmpty()) << "no time to serve";
    load_.cook->serve_s = 18 * hour;
    EXPECT_THAT(codes(off), ElementsAre(Code::long_wait));
    EXPECT_EQ(found(off).front().level, Level::ready);
    EXPECT_THAT(codes(Range{2 * hour, 3 * hour, 4 * hour}), IsEmpty());
}

TEST_F(FoodFindings, TooMuchFuelAsksForCare) {
    course_.fuel = FuelPlan{.laid_kg = 2, .too_much_kg = 0.4};
    EXPECT_THAT(found(), IsEmpty());
    course_.fuel->too_much_kg = 0.6;
    EXPECT_EQ(only().code, Code::too_much_fuel);
    EXPECT_NEAR(*only().value, 2.6, 1e-12);
    EXPECT_EQ(only().limit, 2);
    course_.fuel = FuelPlan{.laid_kg = 2, .too_much_kg = 0.1, .cannot_hold_by_k = 15};
    EXPECT_EQ(only().code, Code::too_much_fuel);
    EXPECT_EQ(only().get<FuelFacts>().too_hot_by_k, 15);
    EXPECT_EQ(only().level, Level::care);
}

TEST_F(FoodFindings, TooLittleFuelAsksForCareAndTooSmallABedIsTold) {
    course_.fuel = FuelPlan{.laid_kg = 2, .too_much_kg = -0.1};
    EXPECT_THAT(found(), IsEmpty());
    course_.fuel->too_much_kg = -0.5;
    EXPECT_EQ(only().code, Code::too_little_fuel);
    EXPECT_EQ(only().level, Level::care);
    course_.fuel = FuelPlan{
        .laid_kg = 2, .bank_from_m = 0.2, .bank_to_m = 0.6, .bank_width_m = 0.5, .enough_bed = false};
    EXPECT_EQ(only().code, Code::small_bed);
    EXPECT_EQ(only().level, Level::ready);
    EXPECT_NEAR(*only().value, 0.2, 1e-12);
}

TEST_F(FoodFindings, ComeWorstFirst) {
    course_.place_courses[1].lukewarm_s = 5 * hour;
    course_.place_courses[0].safe_s = 3.1 * hour;
    load_.cook->start_temperature_k = 260;
    load_.cook->cooker_temperature_k = fahrenheit_to_k(180);
    EXPECT_THAT(codes(),
                ElementsAre(Code::frozen_inside, Code::lukewarm, Code::cool_cooker, Code::by_carry_over));
}

TEST(FoodCodes, BelongToFoodOrFireAndAreNotSeenByHand) {
    for (const Code code : {Code::frozen_inside, Code::undercooked, Code::not_done, Code::by_carry_over,
                            Code::lukewarm, Code::cool_cooker, Code::long_wait}) {
        EXPECT_EQ(topic_of(code), "food");
        EXPECT_FALSE(is_seen_by_hand(code));
    }
    for (const Code code : {Code::too_much_fuel, Code::too_little_fuel, Code::small_bed}) {
        EXPECT_EQ(topic_of(code), "fire");
        EXPECT_FALSE(is_seen_by_hand(code));
    }
    EXPECT_EQ(code_name(Code::frozen_inside), "frozen-inside");
    EXPECT_EQ(unit_of(Code::undercooked), "K");
    EXPECT_EQ(unit_of(Code::lukewarm), "s");
}

}  // namespace
}  // namespace evenspit::cook
