// SPDX-License-Identifier: MIT
// The cook in time, in the viewer: what is pulled and pressed, and what the screen then says.
#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <memory>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "app/viewer/colour_map.h"
#include "app/viewer/dress.h"
#include "app/viewer/stage.h"
#include "report/finding_words.h"
#include "report/food_words.h"
#include "report/reader_units.h"
#include "report/roast_words.h"
#include "scene/colouring.h"

namespace evenspit::viewer {
namespace {

using evenspit::test::TemporaryFolder;
using test::Stage;

constexpr const char* lamb = EVENSPIT_SOURCE_DIR "/samples/leg-of-lamb.toml";

/// What flesh looks like at a temperature, linear.
Vec3 flesh_colour(double kelvin) {
    Vec3 colour = done_colours().front().colour;
    for (std::size_t i = 1; i < done_colours().size(); ++i) {
        const DoneColour &from = done_colours()[i - 1], &to = done_colours()[i];
        if (kelvin >= from.at_k)
            colour = from.colour +
                     std::min(1.0, (kelvin - from.at_k) / (to.at_k - from.at_k)) * (to.colour - from.colour);
    }
    return colour;
}

Rgb8 picture_colour(const Vec3& linear) {
    Rgb8 colour{};
    for (std::size_t i = 0; i < 3; ++i)
        colour[i] = static_cast<std::uint8_t>(
            std::lround(255 * std::pow(linear[static_cast<Eigen::Index>(i)], 1 / 2.2)));
    return colour;
}

/// Cooked once for all tests, which each begin with the load as written.
class CookTest : public testing::Test {
  protected:
    static void SetUpTestSuite() { shared() = std::make_unique<Stage>(); }
    static void TearDownTestSuite() { shared().reset(); }
    static std::unique_ptr<Stage>& shared() {
        static std::unique_ptr<Stage> stage;
        return stage;
    }
    Stage& stage_ = *shared();

    void SetUp() override {
        if (!desk().has_load()) {
            desk().settings().welcomed = true;
            stage_.open(lamb);
            stage_.click("Cook");
        }
        for (const Wish& wish : std::initializer_list<Wish>{ShowMoment{}, ShowTab{Tab::cook}, SetSection{},
                                                            ShowAllThings{}, ShowColours{}, SetUnits{}})
            desk().wish(wish);
        stage_.viewer.settle();
        ASSERT_TRUE(desk().cooking().found()) << stage_.screen();
    }
    [[nodiscard]] Desk& desk() { return stage_.viewer.desk(); }
    [[nodiscard]] const cook::CookMoments& cook() { return *desk().cooking().found(); }
    /// In the picture, at a place of the world.
    [[nodiscard]] std::array<int, 3> colour_at(const Vec3& world) {
        const std::vector<std::uint8_t> picture = stage_.system.picture();
        const Vec3 shown = stage_.shown(world);
        const std::size_t pixel = 3 * (std::size_t(shown.y()) * 1280 + std::size_t(shown.x()));
        return {picture[pixel], picture[pixel + 1], picture[pixel + 2]};
    }
    /// Where a share of the slider is.
    [[nodiscard]] Vec3 on_slider(double share) {
        const Area area = stage_.find("time in the cook", true)->area;
        const double knob = 7;
        return {area.x + knob + share * (area.width - 2 * knob), area.y + 18, 0};
    }
};

TEST_F(CookTest, BeginsAsWrittenAndTellsWhenItIsDoneAndWhoDecides) {
    EXPECT_EQ(desk().moment(), nullptr);
    EXPECT_TRUE(stage_.says("as written")) << stage_.screen();
    EXPECT_TRUE(stage_.says(done_text(stage_.load(), cook().course))) << stage_.screen();
    EXPECT_TRUE(stage_.says(std::string(thermometer_text())));
}

TEST_F(CookTest, TheKnobIsPulledToAMomentAndEverythingIsOfThatMoment) {
    const double end_s = cook().moments.back().time_s;
    stage_.drag(on_slider(0), on_slider(0.5));
    ASSERT_NE(desk().moment(), nullptr);
    const cook::CookMoment& moment = *desk().moment();
    EXPECT_NEAR(moment.time_s, end_s / 2, 310) << "moments are five minutes apart";
    EXPECT_TRUE(stage_.says("after " + Units::minutes(moment.time_s))) << stage_.screen();
    EXPECT_EQ(&desk().analysis(), &moment.analysis);
    for (const Finding& finding : moment.analysis.findings) {
        if (finding.level == Level::ready) continue;
        EXPECT_TRUE(stage_.says(finding_text(finding, moment.load, UnitSystem::metric)));
    }
    const RoastMoment& roast = moment_near(cook().course.roast, moment.time_s);
    EXPECT_TRUE(stage_.says(Units(UnitSystem::metric).temperature(roast.places_k[0])));
    // The picture is of a smaller joint.
    const auto skin = [&] {
        for (const Piece& piece : desk().scene().pieces) {
            if (piece.matter == Matter::skin) return piece.shape;
        }
        return SharedShape();
    };
    const SharedShape cooked = skin();
    stage_.click("Figures");
    EXPECT_TRUE(
        stage_.says(Units(UnitSystem::metric).torque(moment.analysis.balance.gravity_torque_peak_n_m)))
        << stage_.screen();
    stage_.click("Back to the load as written");
    EXPECT_EQ(desk().moment(), nullptr);
    const SharedShape raw = skin();
    ASSERT_EQ(raw->corners.size(), cooked->corners.size());
    double most = 0;
    for (std::size_t c = 0; c < raw->corners.size(); ++c) {
        const auto &a = raw->corners[c].at, &b = cooked->corners[c].at;
        most = std::max(most, std::hypot(double(a[0] - b[0]), double(a[1] - b[1]), double(a[2] - b[2])));
    }
    EXPECT_GT(most, 0.001);
    EXPECT_LT(most, 0.03);
}

TEST_F(CookTest, KeysGoThroughItToo) {
    stage_.key(Key::period, {.shift = true});
    ASSERT_EQ(desk().cooking().shown(), std::optional<std::size_t>(0));
    stage_.key(Key::period, {.shift = true});
    EXPECT_EQ(desk().cooking().shown(), std::optional<std::size_t>(1));
    stage_.key(Key::comma, {.shift = true});
    stage_.key(Key::comma, {.shift = true});
    EXPECT_FALSE(desk().cooking().shown()) << "before the first it is as written";
    stage_.click("Done");
    EXPECT_EQ(desk().moment(), &cook().moments.back());
    EXPECT_FALSE(stage_.find("Later", true) != nullptr && stage_.find("Later", true)->usable);
    stage_.click("Earlier");
    EXPECT_EQ(desk().moment(), &cook().moments[cook().moments.size() - 2]);
}

TEST_F(CookTest, TheWorstMomentIsOneClickAway) {
    stage_.click("Worst");
    ASSERT_NE(desk().moment(), nullptr);
    double worst = 0;
    for (const cook::Along& along : cook().course.along)
        worst = std::max({worst, along.motor_use, grip_use(along).value_or(0)});
    const Analysis& now = desk().analysis();
    double here = std::max(now.balance.motor_use, now.grip.torque_use.value_or(0));
    for (const ItemGrip& item : now.grip.items) here = std::max(here, item.hold_use.value_or(0));
    EXPECT_NEAR(here, worst, 1e-9);
}

TEST_F(CookTest, TemperaturesColourTheCutAndAreToldUnderThePointer) {
    stage_.click("Temperature");
    ASSERT_NE(desk().moment(), nullptr) << "as it goes in";
    stage_.click("Cut it open");
    const double end_s = cook().moments.back().time_s;
    stage_.drag(on_slider(0), on_slider(0.6));
    EXPECT_NEAR(desk().moment()->time_s, 0.6 * end_s, 310);
    stage_.click("Point end");
    // The far bearing stands before it.
    desk().wish(ToggleThing{{Thing::Kind::rod}});
    stage_.viewer.settle();
    ASSERT_TRUE(desk().section());
    const Item& item = desk().moment()->load.items[0];
    // A place on the cut, a little off the rod.
    const Vec3 place(desk().section()->at_m, 0.03, 0.02);
    const double kelvin = desk().moment()->heat[0]->at(item.pose.inverse() * place).value();
    EXPECT_NEAR(scene::told_value(desk().scene(), place).value(), kelvin, 1e-9);
    const Vec3 at = stage_.shown(place);
    stage_.move(at.x(), at.y());
    EXPECT_TRUE(stage_.says("temperature " + Units(UnitSystem::metric).temperature(kelvin)))
        << stage_.screen();
    EXPECT_TRUE(stage_.says(Units(UnitSystem::metric).temperature(cook().hottest_k))) << "the legend";
    stage_.key(Key::u);
    EXPECT_TRUE(stage_.says(Units(UnitSystem::us).temperature(kelvin))) << stage_.screen();
    // Its colour in the picture is the legend's.
    for (const Vec3& off : {Vec3(0, 0.02, -0.02), Vec3(0, -0.025, -0.01)}) {
        const Vec3 here = Vec3(desk().section()->at_m, 0, 0) + off;
        const auto inside = desk().moment()->heat[0]->at(item.pose.inverse() * here);
        ASSERT_TRUE(inside);
        const Rgb8 expected = colour_in_map(*inside, cook().coldest_k, cook().hottest_k);
        const auto seen = colour_at(here);
        for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(seen[i], expected[i], 12) << off.transpose();
    }
}

TEST_F(CookTest, CutFleshLooksAsDoneAsItIsThen) {
    stage_.click("Temperature");
    stage_.click("Cut it open");
    stage_.click("Point end");
    desk().wish(ToggleThing{{Thing::Kind::rod}});
    const Rgb8 raw = picture_colour(done_colours().front().colour);
    for (const Colouring colouring : {Colouring::none, Colouring::heat}) {
        desk().wish(ShowColours{colouring});
        for (const std::size_t n : {std::size_t{0}, cook().moments.size() - 1}) {
            desk().wish(ShowMoment{n});
            stage_.viewer.settle();
            const Item& item = desk().moment()->load.items[0];
            const Vec3 here = Vec3(desk().section()->at_m, 0, 0) + Vec3(0, -0.025, -0.01);
            const double kelvin = desk().moment()->heat[0]->at(item.pose.inverse() * here).value();
            const std::array<int, 3> seen = colour_at(here);
            const Rgb8 expected = picture_colour(flesh_colour(kelvin));
            for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(seen[i], expected[i], 4) << n;
            if (n == 0) {
                EXPECT_EQ(expected, raw);
            } else {
                EXPECT_GT(seen[1], raw[1] + 5) << "no longer raw";
            }
        }
    }
}

TEST_F(CookTest, HeatTakenUpColoursTheSkin) {
    stage_.click("Done");
    stage_.click("Heat taken up");
    ASSERT_TRUE(desk().scene().field);
    EXPECT_TRUE(stage_.says("heat taken up, against the mean")) << stage_.screen();
    EXPECT_LT(desk().scene().field->from, 1);
    EXPECT_GT(desk().scene().field->to, 1);
    EXPECT_TRUE(stage_.says(Units::share(desk().scene().field->to))) << stage_.screen();
}

TEST_F(CookTest, AfterAMoveItIsCookedAnewOnceTheHandsRestAndTheSameTimeIsShown) {
    desk().wish(Select{{Thing::Kind::item, 0}});
    const double end_s = cook().moments.back().time_s;
    stage_.drag(on_slider(0), on_slider(0.5));
    const double looked_at_s = desk().moment()->time_s;
    const double before_m = desk().moment()->load.items[0].seat.at_m;
    stage_.system.give(KeyPressed{Key::right, true, {}});
    stage_.viewer.step();
    stage_.viewer.step();
    EXPECT_EQ(desk().moment(), nullptr) << "of how it was no moment is shown";
    EXPECT_TRUE(desk().cook_is_due());
    EXPECT_TRUE(stage_.says("this cook is of the load as it was")) << stage_.screen();
    EXPECT_NE(stage_.find("Stop it", true), nullptr) << stage_.screen();
    stage_.viewer.settle();
    EXPECT_FALSE(stage_.says("of the load as it was")) << stage_.screen();
    ASSERT_NE(desk().moment(), nullptr);
    EXPECT_NEAR(desk().moment()->time_s, looked_at_s, 310) << "of " << end_s;
    EXPECT_NEAR(desk().moment()->load.items[0].seat.at_m, before_m + 0.001, 1e-9);
    stage_.give(KeyPressed{Key::right, false, {}});
}

TEST_F(CookTest, ACookThatWasStoppedIsNotBegunAgainBeforeTheNextMove) {
    desk().wish(Select{{Thing::Kind::item, 0}});
    stage_.viewer.settle();
    desk().wish(Nudge{.along_m = 0.001});
    desk().wish(CancelCook{});
    stage_.viewer.settle();
    EXPECT_TRUE(desk().cook_is_stale());
    EXPECT_TRUE(stage_.says("this cook is of the load as it was")) << stage_.screen();
    stage_.key(Key::period, {.shift = true});
    EXPECT_EQ(desk().moment(), nullptr) << "of how it was nothing is shown";
    stage_.click("Cook it again");
    EXPECT_FALSE(stage_.says("of the load as it was"));
    stage_.click("Done");
    EXPECT_NE(desk().moment(), nullptr);
}

TEST_F(CookTest, WhereNobodyLooksAtTheCookAMoveBeginsNone) {
    desk().wish(ShowTab{Tab::figures});
    desk().wish(Select{{Thing::Kind::item, 0}});
    stage_.viewer.settle();
    desk().wish(Nudge{.along_m = 0.001});
    stage_.viewer.settle();
    EXPECT_TRUE(desk().cook_is_stale());
    EXPECT_FALSE(desk().cook_is_due());
    stage_.click("Cook");
    EXPECT_FALSE(desk().cook_is_stale()) << stage_.screen();
}

TEST(Cook, ALoadWithoutOneSaysWhatIsMissing) {
    const TemporaryFolder folder;
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(folder.write("plain.toml",
                            "rod = { model = \"square-8mm\" }\n"
                            "motor = { model = \"mains-gearmotor\" }\n"
                            "[[item]]\nshape = \"boneless roll\"\nmass = \"2 kg\"\nat = \"340 mm\"\n"));
    stage.key(Key::o);
    EXPECT_TRUE(stage.says("cooker_temperature = \"300 degF\"")) << stage.screen();
    EXPECT_FALSE(stage.viewer.desk().cooking().found());
}

}  // namespace
}  // namespace evenspit::viewer
