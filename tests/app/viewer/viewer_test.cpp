// SPDX-License-Identifier: MIT
// The whole viewer without a display: what is done with pointer and keys, what the screen then says, and what
// load results.
#include "app/viewer/viewer.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/balance.h"
#include "analysis/chance.h"
#include "app/sample_load.h"
#include "app/viewer/axes_mark.h"
#include "app/viewer/keys.h"
#include "app/viewer/stage.h"
#include "geometry/mesh_io.h"
#include "load/load_file.h"
#include "report/chart.h"
#include "report/finding_words.h"
#include "report/plan_words.h"
#include "report/reader_units.h"
#include "scene/colouring.h"
#include "support/metric_words.h"

namespace evenspit::viewer {
namespace {

using evenspit::test::content_of;
using evenspit::test::TemporaryFolder;
using evenspit::test::write_sample_load;
using std::numbers::pi;
using test::Stage;
using testing::HasSubstr;

constexpr const char* turkey = EVENSPIT_SOURCE_DIR "/samples/harvest-turkey.toml";
constexpr const char* wrong = EVENSPIT_SOURCE_DIR "/samples/everything-wrong.toml";

class ViewerTest : public testing::Test {
  protected:
    TemporaryFolder folder_;
    std::filesystem::path file_ = write_sample_load(folder_);
    Stage stage_;

    void SetUp() override {
        stage_.viewer.desk().settings().welcomed = true;
        stage_.open(file_);
        ASSERT_TRUE(stage_.viewer.desk().has_answer());
    }
    [[nodiscard]] const Seat& seat() { return stage_.load().items[0].seat; }
};

TEST_F(ViewerTest, SaysWhatTheAnalysisSays) {
    const Analysis expected = analyse(read_load(file_, {}));
    EXPECT_TRUE(stage_.says(expected.verdict == Level::care ? "CARE" : "READY")) << stage_.screen();
    for (const Finding& finding : expected.findings) {
        if (finding.level == Level::ready) continue;
        const std::string words = finding_text(finding, read_load(file_, {}), UnitSystem::metric);
        EXPECT_TRUE(stage_.says(words)) << words;
    }
    stage_.click("Figures");
    EXPECT_TRUE(stage_.says(Units(UnitSystem::metric).torque(expected.balance.motor_torque_peak_n_m)));
    EXPECT_TRUE(stage_.says(Units(UnitSystem::metric).slack(expected.rod.sag_max_m)));
    EXPECT_TRUE(stage_.says("grate"));
}

TEST_F(ViewerTest, SaysThePartOfTheScan) {
    stage_.click("Figures");
    EXPECT_FALSE(stage_.says("of it the scan"));
    const TriangleMesh mesh = read_mesh(folder_ / "body.ply").mesh;
    const Mat3 covariance = Vec3(0, 9e-6, 16e-6).asDiagonal();
    folder_.write("body.ply", labelled_ply(mesh, {}, {centre_covariance_comment(covariance)}));
    stage_.open(file_);
    const Uncertainty expected = judge(read_load(file_, {})).uncertainty.value();
    EXPECT_TRUE(stage_.says("of it the scan")) << stage_.screen();
    EXPECT_TRUE(stage_.says(Units(UnitSystem::metric).torque(expected.of_scans_n_m()))) << stage_.screen();
}

TEST_F(ViewerTest, ColoursTheSkinAndTellsWhatTheColoursMean) {
    EXPECT_FALSE(stage_.says("distance from the rod"));
    stage_.key(Key::v);
    ASSERT_TRUE(stage_.viewer.desk().scene().field);
    const Field field = *stage_.viewer.desk().scene().field;
    EXPECT_TRUE(stage_.says("distance from the rod")) << stage_.screen();
    EXPECT_TRUE(stage_.says(Units(UnitSystem::metric).length(field.from)));
    EXPECT_TRUE(stage_.says(Units(UnitSystem::metric).length(field.to)));
    stage_.key(Key::u);
    EXPECT_TRUE(stage_.says(Units(UnitSystem::us).length(field.to)));
    stage_.click("Colours");
    stage_.give(PointerLeft{});
    EXPECT_FALSE(stage_.says("distance from the rod"));
    EXPECT_FALSE(stage_.viewer.desk().scene().field);
}

TEST_F(ViewerTest, ChoosesWhatIsClickedInThePicture) {
    stage_.click("Front");
    const Vec3 at = stage_.shown({0.34, 0, 0});
    stage_.click(at.x() + 20, at.y() + 20);
    EXPECT_EQ(stage_.viewer.desk().selected(), (Thing{Thing::Kind::item, 0}));
    const Vec3 sky = stage_.shown({0.05, 0, 0.14});
    stage_.click(sky.x(), sky.y());
    EXPECT_FALSE(movable(stage_.viewer.desk().selected()));
}

TEST_F(ViewerTest, NamesWhatIsUnderThePointer) {
    stage_.click("Front");
    const Vec3 fork = stage_.shown({0.23, 0, 0});
    stage_.move(fork.x(), fork.y());
    EXPECT_TRUE(stage_.says("fork 1 at 230 mm")) << stage_.screen();
    const Vec3 motor = stage_.shown({-0.05, 0, 0});
    stage_.move(motor.x(), motor.y());
    EXPECT_TRUE(stage_.says("motor"));
}

TEST_F(ViewerTest, DragsTheRodLineAndTheAnswersFollow) {
    // The sample's centre of mass lies 4 mm toward +Y; from the drive end both ways can be told.
    stage_.viewer.desk().wish(Select{{Thing::Kind::item, 0}});
    stage_.click("Drive end");
    const double before = stage_.viewer.desk().answers().analysis().balance.gravity_torque_peak_n_m;
    const Vec3 from = stage_.handle(Grip3d::line_from);
    const double px_per_m =
        1 / stage_.viewer.desk().camera().pixel_m({0.24, 0, 0}, stage_.viewer.layout().scene);
    // +Y is on the left when looking toward +X.
    stage_.drag(from, from + Vec3(-0.008 * px_per_m, 0, 0));
    EXPECT_NEAR(seat().line.from.x(), 0.008, 0.0011);
    EXPECT_NEAR(seat().line.from.y(), 0, 0.0011);
    EXPECT_EQ(seat().line.to, Vec2::Zero());
    const double after = stage_.viewer.desk().answers().analysis().balance.gravity_torque_peak_n_m;
    EXPECT_LT(after, 0.3 * before) << "half the way at one end is the whole at the middle";
    stage_.click("Undo");
    EXPECT_EQ(seat().line.from, Vec2::Zero()) << "the whole drag is one step";
    stage_.key(Key::y, {.control = true});
    EXPECT_NE(seat().line.from, Vec2::Zero());
}

TEST_F(ViewerTest, SlidesAndTurnsForksByTheirHandles) {
    stage_.viewer.desk().wish(Select{{Thing::Kind::fork, 0}});
    stage_.click("Front");
    const Vec3 slide = stage_.handle(Grip3d::slide);
    const double px_per_m =
        1 / stage_.viewer.desk().camera().pixel_m({0.23, 0, 0}, stage_.viewer.layout().scene);
    stage_.drag(slide, slide + Vec3(0.012 * px_per_m, 3, 0));
    EXPECT_NEAR(stage_.load().forks[0].at_m, 0.242, 0.0011);
    EXPECT_NEAR(std::remainder(stage_.load().forks[0].at_m, 0.001), 0, 1e-9) << "on whole millimetres";
    stage_.click("Drive end");
    const Vec3 clock = stage_.handle(Grip3d::clock);
    const Vec3 axis = stage_.shown({0.242, 0, 0});
    const Vec3 arm = clock - axis;
    // Looking toward +X a growing clock runs with the hands of a clock: +Y is on the left, +Z up.
    const Vec3 to = axis + Eigen::AngleAxisd(pi / 6, Vec3::UnitZ()) * Vec3(arm.x(), arm.y(), 0);
    stage_.drag(clock, to);
    EXPECT_NEAR(stage_.load().forks[0].clock_rad, pi / 6, 0.03);
}

TEST_F(ViewerTest, WhatMayNotBeIsRefusedWithTheReason) {
    stage_.click("Places");
    stage_.click("fork 1   at");
    stage_.type("at", "2 m");
    EXPECT_EQ(stage_.load().forks[0].at_m, 0.23);
    EXPECT_TRUE(stage_.says("That is not possible:")) << stage_.screen();
    EXPECT_TRUE(stage_.says("fork 1 cannot sit at 2 m"));
    stage_.type("at", "9 lb");
    EXPECT_TRUE(stage_.says("expected a length"));
    stage_.click("Close");
    EXPECT_FALSE(stage_.says("expected a length"));
}

TEST_F(ViewerTest, TypesPlacesWithUnits) {
    stage_.click("Places");
    stage_.click("roast   at");
    stage_.type("at", "13 1/2 in");
    EXPECT_NEAR(seat().at_m, 0.3429, 1e-12);
    stage_.type("turn", "0.5 rad");
    EXPECT_NEAR(seat().turn_rad, 0.5, 1e-12);
    stage_.type("line, end z", "-3 mm");
    EXPECT_NEAR(seat().line.to.y(), -0.003, 1e-12);
    stage_.click("Faces the point");
    EXPECT_EQ(seat().facing, Facing::drive);
    EXPECT_TRUE(stage_.says("load.toml, changed"));
}

TEST_F(ViewerTest, AddsACounterweightThatHelpsAndTakesItAway) {
    const double before = stage_.viewer.desk().answers().analysis().balance.gravity_torque_peak_n_m;
    stage_.click("Places");
    stage_.click("Add a counterweight");
    ASSERT_EQ(stage_.load().counterweights.size(), 1U);
    EXPECT_LT(stage_.viewer.desk().answers().analysis().balance.gravity_torque_peak_n_m, 0.3 * before);
    stage_.type("mass", "250 g");
    EXPECT_NEAR(stage_.load().counterweights[0].mass_kg, 0.25, 1e-12);
    stage_.key(Key::escape);
    stage_.click("counterweight 1   at");
    stage_.click("Take it away");
    EXPECT_TRUE(stage_.load().counterweights.empty());
}

TEST_F(ViewerTest, EverythingGoesByKeyboard) {
    stage_.key(Key::tab);
    EXPECT_EQ(stage_.viewer.desk().selected(), (Thing{Thing::Kind::item, 0}));
    stage_.key(Key::right);
    EXPECT_NEAR(seat().at_m, 0.341, 1e-12);
    stage_.key(Key::left, {.shift = true});
    EXPECT_NEAR(seat().at_m, 0.331, 1e-12);
    stage_.key(Key::up);
    EXPECT_NEAR(seat().turn_rad, pi / 180, 1e-12);
    stage_.key(Key::up, {.alt = true});
    EXPECT_NEAR(seat().line.from.y(), 0.001, 1e-12);
    stage_.key(Key::z, {.control = true});
    EXPECT_NEAR(seat().at_m, 0.34, 1e-12);
    stage_.key(Key::period);
    EXPECT_NEAR(stage_.viewer.desk().turn().angle_rad, 5 * pi / 180, 1e-12);
    stage_.key(Key::u);
    EXPECT_TRUE(stage_.says("lbf in")) << stage_.screen();
    EXPECT_EQ(stage_.viewer.desk().settings().units, UnitSystem::us);
    stage_.key(Key::f1);
    EXPECT_TRUE(stage_.says("Keys"));
    stage_.key(Key::escape);
    EXPECT_FALSE(stage_.says("Keys"));
    stage_.key(Key::num_6);
    EXPECT_LT(stage_.viewer.desk().camera().forward().z(), -0.99);
    stage_.key(Key::t);
    EXPECT_TRUE(stage_.says("Gaps, sag included"));
}

TEST_F(ViewerTest, PanelsGoByTabArrowsAndEnter) {
    stage_.key(Key::f6);
    EXPECT_TRUE(stage_.viewer.ui().focus().has_keys());
    const auto go_to = [&](const std::string& name) {
        const Area wanted = stage_.find(name, true)->area;
        for (int i = 0; i < 60; ++i) {
            if (stage_.focused() && stage_.focused()->x == wanted.x && stage_.focused()->y == wanted.y)
                return;
            stage_.key(Key::tab);
        }
        FAIL() << name << " was never reached";
    };
    go_to("Places");
    stage_.key(Key::enter);
    EXPECT_EQ(stage_.viewer.desk().tab(), Tab::places);
    stage_.key(Key::right);
    stage_.key(Key::space);
    EXPECT_EQ(stage_.viewer.desk().tab(), Tab::figures);
    EXPECT_FALSE(stage_.viewer.desk().turn().playing) << "the bar is the panels' now";
    stage_.key(Key::left);
    stage_.key(Key::enter);
    go_to("fork 1   at 230 mm, clock 0°");
    stage_.key(Key::enter);
    EXPECT_EQ(stage_.viewer.desk().selected(), (Thing{Thing::Kind::fork, 0}));
    go_to("at");
    for (const char c : std::string("235 mm")) stage_.system.give(TextTyped{static_cast<unsigned char>(c)});
    stage_.viewer.settle();
    stage_.key(Key::tab);
    EXPECT_NEAR(stage_.load().forks[0].at_m, 0.235, 1e-12) << "leaving a field takes what was typed";
    stage_.key(Key::escape);
    stage_.key(Key::escape);
    EXPECT_FALSE(stage_.viewer.ui().focus().has_keys());
    stage_.key(Key::right);
    EXPECT_NEAR(stage_.load().forks[0].at_m, 0.236, 1e-12) << "arrows are the scene's again";
}

TEST_F(ViewerTest, DialoguesTakeTheKeysAsTheyOpen) {
    stage_.key(Key::tab);
    stage_.key(Key::right);
    stage_.give(CloseAsked{});
    ASSERT_TRUE(stage_.says("Not saved"));
    EXPECT_TRUE(stage_.viewer.ui().focus().in_dialog());
    stage_.key(Key::tab);
    stage_.key(Key::tab);
    stage_.key(Key::enter);
    EXPECT_EQ(stage_.viewer.desk().dialog(), Dialog::none) << "Cancel is the third";
    EXPECT_FALSE(stage_.viewer.desk().ended());
    EXPECT_FALSE(stage_.viewer.ui().focus().has_keys()) << "back where they were";
    stage_.give(CloseAsked{});
    stage_.key(Key::enter);
    EXPECT_TRUE(stage_.viewer.desk().ended()) << "Save is the first";
}

TEST_F(ViewerTest, ANameIsTypedAtOnceWhereOneIsAskedFor) {
    stage_.viewer.desk().wish(ShowDialog{Dialog::save_as});
    stage_.viewer.settle();
    stage_.type("typed.toml");
    EXPECT_EQ(stage_.viewer.desk().dialog(), Dialog::none) << stage_.screen();
    EXPECT_EQ(stage_.viewer.desk().session().file().filename(), "typed.toml");
}

TEST_F(ViewerTest, KeysThatHaveQueuedAreAllDoneInOneRound) {
    stage_.key(Key::tab);
    for (int i = 0; i < 7; ++i) {
        stage_.system.give(KeyPressed{Key::right, true, {}});
        stage_.system.give(KeyPressed{Key::right, false, {}});
    }
    const int shown = stage_.system.shown();
    stage_.viewer.step();
    EXPECT_NEAR(seat().at_m, 0.347, 1e-12);
    EXPECT_EQ(stage_.system.shown(), shown + 1) << "and painted once";
    stage_.click("Places");
    stage_.click("at");
    for (const char c : std::string("3x")) stage_.system.give(TextTyped{static_cast<unsigned char>(c)});
    stage_.system.give(KeyPressed{Key::backspace, true, {}});
    stage_.system.give(KeyPressed{Key::backspace, false, {}});
    for (const char c : std::string("5 cm")) stage_.system.give(TextTyped{static_cast<unsigned char>(c)});
    stage_.system.give(KeyPressed{Key::enter, true, {}});
    stage_.system.give(KeyPressed{Key::enter, false, {}});
    stage_.viewer.step();
    EXPECT_NEAR(seat().at_m, 0.35, 1e-12);
}

TEST_F(ViewerTest, KeysMoveByRoundFiguresOfTheReadersUnits) {
    stage_.key(Key::u);
    stage_.key(Key::tab);
    const double before = seat().at_m;
    stage_.key(Key::right);
    EXPECT_NEAR(seat().at_m - before, 0.0254 / 32, 1e-12);
    for (const KeyHelp& key : key_help(UnitSystem::us))
        EXPECT_EQ(evenspit::test::metric_figure(key.does), "") << key.does;
}

TEST_F(ViewerTest, KeysGoByTheLetterThatIsOnThem) {
    EXPECT_EQ(key_of_name("z"), Key::z);
    EXPECT_EQ(key_of_name("y"), Key::y);
    EXPECT_EQ(key_of_name("A"), Key::a);
    EXPECT_EQ(key_of_name(","), Key::comma);
    EXPECT_EQ(key_of_name("="), Key::plus);
    EXPECT_EQ(key_of_name("ö"), Key::unknown);
    EXPECT_EQ(key_of_name("я"), Key::unknown);
    EXPECT_EQ(key_of_name(""), Key::unknown);
    stage_.give(TextTyped{'?'});
    EXPECT_TRUE(stage_.says("Keys"));
}

TEST_F(ViewerTest, WritesNamesInGreekAndCyrillicLetters) {
    // ALPHA, YA, and a Latin letter with a mark below: each has a shape of its own.
    const ImFont& font = *stage_.viewer.ui().regular();
    for (const int letter : {0x391, 0x42f, 0x1e0d, 0x142}) {
        const ImFontGlyph* glyph = font.FindGlyphNoFallback(static_cast<ImWchar>(letter));
        ASSERT_NE(glyph, nullptr) << letter;
        EXPECT_GT(glyph->X1, glyph->X0) << letter;
    }
}

TEST_F(ViewerTest, NamesForksAndTheTinesOfTheOneThatIsChosen) {
    stage_.click("Front");
    stage_.give(PointerLeft{});
    const auto named = [&](const std::string& name) {
        const auto& all = stage_.viewer.ui().written();
        return std::any_of(all.begin(), all.end(), [&](const Written& written) {
            return written.layer == Layer::scene && written.text == name;
        });
    };
    EXPECT_TRUE(named("fork 1")) << stage_.screen();
    EXPECT_FALSE(named("tine 1"));
    stage_.viewer.desk().wish(Select{{Thing::Kind::fork, 0}});
    stage_.viewer.settle();
    EXPECT_TRUE(named("tine 1")) << stage_.screen();
}

TEST(Marking, ATineAndItsBoneShowThroughTheSkin) {
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(turkey);
    EXPECT_FALSE(stage.viewer.desk().settings().through_skin);
    stage.viewer.desk().wish(MarkTines{{{Thing::Kind::tine, 0, 0}}, 0, true});
    stage.viewer.settle();
    EXPECT_TRUE(stage.viewer.desk().settings().through_skin);
    EXPECT_TRUE(stage.says("tine 1 of fork 1")) << stage.screen();
    const ShapeMesh* bone = stage.viewer.desk().marked_bone();
    ASSERT_NE(bone, nullptr);
    const auto& pieces = stage.viewer.desk().scene().pieces;
    const auto found =
        std::find_if(pieces.begin(), pieces.end(), [&](const Piece& p) { return p.shape.get() == bone; });
    ASSERT_NE(found, pieces.end());
    EXPECT_EQ(found->matter, scene::Matter::bone);
    stage.viewer.desk().wish(Select{});
    stage.viewer.settle();
    EXPECT_FALSE(stage.says("tine 1 of fork 1"));
    EXPECT_EQ(stage.viewer.desk().marked_bone(), nullptr);
}

TEST_F(ViewerTest, TheHeavySidesArrowCanBeReadOnItsDial) {
    const Balance& balance = stage_.viewer.desk().answers().analysis().balance;
    const std::string pull = Units(UnitSystem::metric).torque(balance.unbalance_kg_m_size * 9.80665);
    EXPECT_TRUE(stage_.says("pulls " + pull)) << stage_.screen();
    EXPECT_TRUE(stage_.says("rim 0.1 N m")) << stage_.screen();
}

TEST_F(ViewerTest, ChartsTellTheirValuesAndTurnTheLoad) {
    const Area& strip = stage_.viewer.layout().charts;
    const Frame torque{strip.x, strip.y, 0.28 * strip.width, strip.height};
    const Frame plot = plot_of(torque, 1);
    const double x = std::floor(plot.x + plot.width / 3), y = std::floor(plot.y + plot.height / 2);
    const double degrees = (x - plot.x) / plot.width * 360;
    stage_.move(x, y);
    const Balance& balance = stage_.viewer.desk().answers().analysis().balance;
    const std::string there = Units(UnitSystem::metric).torque(motor_torque_at(balance, degrees * pi / 180));
    EXPECT_TRUE(stage_.says(fmt::format("{:.0f}°: {}", degrees, there))) << stage_.screen();
    stage_.click(x, y);
    EXPECT_NEAR(stage_.viewer.desk().turn().angle_rad, degrees * pi / 180, 1e-4);
    // Elsewhere a click makes it larger, and a second one smaller.
    EXPECT_FALSE(stage_.says("Smaller"));
    stage_.click(plot.x + 20, strip.y + 8);
    EXPECT_TRUE(stage_.says("Smaller"));
    stage_.click("Smaller");
    EXPECT_FALSE(stage_.says("Smaller"));
    stage_.click("Sag chart");
    EXPECT_TRUE(stage_.says("Smaller"));
    stage_.key(Key::escape);
    EXPECT_FALSE(stage_.says("Smaller"));
}

TEST_F(ViewerTest, ASectionIsPulledByItsHandle) {
    Desk& desk = stage_.viewer.desk();
    stage_.click("Front");
    stage_.key(Key::k);
    ASSERT_TRUE(desk.section());
    EXPECT_EQ(desk.section()->way, Section::Way::across);
    const double before = desk.section()->at_m;
    EXPECT_NEAR(before, desk.answers().analysis().balance.centre_x_m, 1e-12);
    const Vec3 handle = section_handle(desk).value();
    const Vec3 from = stage_.shown(handle), to = stage_.shown(handle + Vec3(0.05, 0, 0));
    const double azimuth = desk.camera().azimuth();
    stage_.drag(from, to);
    EXPECT_NEAR(desk.section()->at_m, before + 0.05, 0.002);
    EXPECT_EQ(desk.camera().azimuth(), azimuth) << "the view stays";
    EXPECT_FALSE(desk.session().unsaved()) << "nothing of the load is moved";
    EXPECT_TRUE(stage_.says("section at " +
                            Stations(UnitSystem::metric, stage_.load().rod.mark_m)(desk.section()->at_m)))
        << stage_.screen();
    stage_.key(Key::k);
    EXPECT_EQ(desk.section()->way, Section::Way::along);
    stage_.key(Key::k);
    EXPECT_FALSE(desk.section());
}

TEST_F(ViewerTest, TellsTheColoursValueUnderThePointer) {
    Desk& desk = stage_.viewer.desk();
    stage_.click("Front");
    desk.wish(ShowColours{Colouring::gap});
    stage_.viewer.settle();
    EXPECT_TRUE(stage_.says("gap to the cooker")) << stage_.screen();
    const Vec3 at = stage_.shown({0.34, 0, 0.02});
    stage_.move(at.x(), at.y());
    const auto seen =
        sighted(stage_.load(), desk.camera().ray(at.x(), at.y(), stage_.viewer.layout().scene), 0);
    ASSERT_TRUE(seen);
    const double value = scene::field_value(*desk.scene().field, seen->at);
    EXPECT_TRUE(stage_.says("gap to the cooker " + Units(UnitSystem::metric).length(value)))
        << stage_.screen();
    // With the near half cut away the pointer is on the cut, at the rod's own depth.
    desk.wish(SetSection{Section{Section::Way::along, 0}});
    stage_.viewer.settle();
    stage_.move(at.x() + 1, at.y());
    stage_.move(at.x(), at.y());
    const Ray ray = desk.camera().ray(at.x(), at.y(), stage_.viewer.layout().scene);
    const Vec3 on_cut = ray.from - ray.from.y() / ray.along.y() * ray.along;
    const double inside = scene::field_value(*desk.scene().field, on_cut);
    ASSERT_GT(inside, value);
    EXPECT_TRUE(stage_.says("gap to the cooker " + Units(UnitSystem::metric).length(inside)))
        << stage_.screen();
}

TEST_F(ViewerTest, SavesPicturesWithPanelsAndWithout) {
    stage_.key(Key::p, {.control = true});
    EXPECT_TRUE(stage_.says("Saved ")) << stage_.screen();
    ASSERT_TRUE(std::filesystem::exists(folder_ / "load.png"));
    stage_.click("More");
    stage_.click("Save window");
    ASSERT_TRUE(std::filesystem::exists(folder_ / "load-2.png")) << "nothing is written over";
    const auto width_of = [](const std::filesystem::path& file) {
        const std::string bytes = content_of(file);
        // PNG, RFC 2083: the width stands after the signature and the head of the first chunk.
        std::size_t width = 0;
        for (std::size_t i = 16; i < 20; ++i) width = width * 256 + static_cast<unsigned char>(bytes[i]);
        return width;
    };
    EXPECT_EQ(width_of(folder_ / "load.png"), static_cast<std::size_t>(stage_.viewer.layout().scene.width));
    EXPECT_EQ(width_of(folder_ / "load-2.png"), 1280U);
}

TEST_F(ViewerTest, SavesAFilmOfTheTurn) {
    stage_.system.resize({640, 480}, 1);
    stage_.viewer.desk().wish(SavePicture{SavePicture::What::film});
    stage_.viewer.settle();
    const auto film = folder_ / "load-turn";
    ASSERT_TRUE(std::filesystem::exists(film / "turn-072.png")) << stage_.screen();
    EXPECT_FALSE(std::filesystem::exists(film / "turn-073.png"));
    EXPECT_THAT(content_of(film / "turn.gif"), testing::StartsWith("GIF89a"));
    EXPECT_THAT(content_of(film / "turn.gif"), testing::EndsWith(";"));
    EXPECT_NE(content_of(film / "turn-001.png"), content_of(film / "turn-019.png")) << "it turns";
    EXPECT_EQ(stage_.viewer.desk().turn().angle_rad, 0) << "on the table nothing has moved";
}

TEST_F(ViewerTest, AxesInTheCornerTurnTheView) {
    // The hints of a first start lie over them.
    if (stage_.says("Got it")) stage_.click("Got it");
    const auto look = [&](StandardView view) {
        for (const AxisEnd& end : axis_ends(stage_.viewer.desk().camera(), stage_.viewer.layout().scene, 1)) {
            if (end.view == view) stage_.click(end.at.x(), end.at.y());
            if (end.view == view) return;
        }
    };
    look(StandardView::above);
    EXPECT_LT(stage_.viewer.desk().camera().forward().z(), -0.99);
    look(StandardView::point_end);
    EXPECT_LT(stage_.viewer.desk().camera().forward().x(), -0.9);
    look(StandardView::back);
    EXPECT_LT(stage_.viewer.desk().camera().forward().y(), -0.9);
}

TEST_F(ViewerTest, ADoubleClickLooksThere) {
    stage_.click("Front");
    const Vec3 at = stage_.shown({0.38, 0, 0.02});
    stage_.click(at.x(), at.y());
    const Vec3 before = stage_.viewer.desk().camera().target();
    stage_.click(at.x(), at.y());
    EXPECT_FALSE(stage_.viewer.desk().camera().target().isApprox(before));
    EXPECT_NEAR(stage_.viewer.desk().camera().target().x(), 0.38, 0.01);
    stage_.system.pass(1);
    const Vec3 now = stage_.viewer.desk().camera().target();
    stage_.click(at.x() - 60, at.y());
    stage_.system.pass(1);
    stage_.click(at.x() - 60, at.y());
    EXPECT_EQ(stage_.viewer.desk().camera().target(), now) << "two slow clicks are no double click";
}

TEST_F(ViewerTest, TheHelpPageNamesEveryKey) {
    stage_.click("Help");
    for (const KeyHelp& key : key_help(UnitSystem::metric)) EXPECT_TRUE(stage_.says(key.does)) << key.keys;
    stage_.click("US");
    stage_.click("150 %");
    EXPECT_EQ(stage_.viewer.scale(), 1.5);
    stage_.click("Close");
    EXPECT_FALSE(stage_.says("Settings"));
}

TEST_F(ViewerTest, FindingsAreClickedToLookThere) {
    stage_.system.resize({1280, 1600}, 1);
    stage_.open(wrong);
    const Vec3 before = stage_.viewer.desk().camera().target();
    stage_.click("The rod sags by");
    EXPECT_NEAR(stage_.viewer.desk().camera().target().x(),
                stage_.viewer.desk().answers().analysis().rod.sag_at_m, 1e-9);
    EXPECT_FALSE(before.isApprox(stage_.viewer.desk().camera().target()));
    stage_.click("Counterweight 1 reaches");
    EXPECT_NEAR(stage_.viewer.desk().camera().target().x(), 0.63, 1e-9) << "where it reaches past the end";
}

TEST_F(ViewerTest, FindingsGiveUsFiguresOnDemand) {
    stage_.open(wrong);
    const auto told = [this](UnitSystem units) {
        const double sag_m = stage_.viewer.desk().answers().analysis().rod.sag_max_m;
        return "The rod sags by " + Units(units).slack(sag_m);
    };
    const std::string metric = told(UnitSystem::metric);
    EXPECT_EQ(metric, "The rod sags by 35 mm");
    EXPECT_TRUE(stage_.says(metric)) << stage_.screen();
    stage_.key(Key::u);
    EXPECT_TRUE(stage_.says(told(UnitSystem::us))) << stage_.screen();
    for (const char* panel : {"Figures", "Places"}) {
        stage_.click(panel);
        EXPECT_EQ(evenspit::test::metric_figure(stage_.screen()), "") << panel;
    }
}

TEST_F(ViewerTest, PinsAndComparesBothFigures) {
    stage_.click("Pin");
    stage_.click("Figures");
    const double before = stage_.viewer.desk().answers().analysis().balance.motor_torque_peak_n_m;
    stage_.key(Key::tab);
    stage_.key(Key::down, {.shift = true, .alt = true});
    stage_.key(Key::down, {.shift = true, .alt = true});
    const double after = stage_.viewer.desk().answers().analysis().balance.motor_torque_peak_n_m;
    const auto words = [](double torque) { return Units(UnitSystem::metric).torque(torque); };
    ASSERT_NE(words(before), words(after));
    EXPECT_TRUE(stage_.says(words(before))) << "as pinned";
    EXPECT_TRUE(stage_.says(words(after))) << "now";
    stage_.click("Unpin");
    EXPECT_FALSE(stage_.says("Now, and beside it as pinned"));
}

TEST_F(ViewerTest, PlansStepsThroughTheAnswersAndTakesOne) {
    stage_.click("Plan");
    stage_.click("Seek a better setting");
    const auto& plan = stage_.viewer.desk().planning().plan();
    ASSERT_TRUE(plan) << stage_.screen();
    EXPECT_TRUE(stage_.says("★ recommended"));
    const auto why = [&](std::size_t i) { return answer_why(stage_.load(), *plan, i, UnitSystem::metric); };
    EXPECT_TRUE(stage_.says(why(plan->recommended)));
    while (stage_.viewer.desk().planning().shown() > 0) stage_.click("Before");
    EXPECT_TRUE(stage_.says(why(0)));
    stage_.click("Next");
    const std::vector<std::string> steps = answer_steps(stage_.load(), *plan, 1, UnitSystem::metric);
    ASSERT_FALSE(steps.empty());
    EXPECT_TRUE(stage_.says("1  " + steps[0])) << stage_.screen();
    stage_.click("Take it");
    EXPECT_TRUE(same_arrangement(arrangement_of(stage_.load()), plan->answers[1].arrangement));
    stage_.key(Key::z, {.control = true});
    stage_.key(Key::tab);
    stage_.key(Key::right);
    EXPECT_TRUE(stage_.says("these answers belong to how it was"));
}

TEST_F(ViewerTest, PutsDownARollTestAndTrims) {
    // Less friction, so that 4 mm off the rod let it roll.
    file_ = write_sample_load(folder_, {.friction_torque = "0.02 N m"});
    stage_.open(file_);
    stage_.click("Roll");
    EXPECT_TRUE(stage_.says("Put down a roll test first."));
    EXPECT_EQ(stage_.find("Put it down", true), nullptr) << "nothing was typed yet";
    stage_.type("at the bottom", "10 deg");
    stage_.click("Put it down");
    ASSERT_EQ(stage_.load().roll_tests.size(), 1U) << stage_.screen();
    EXPECT_TRUE(stage_.says("1  Came to rest with 20 minutes to 3 (10°) at the bottom."));
    EXPECT_EQ(stage_.find("Put it down", true), nullptr) << "the same test is put down once";
    const auto lift = [&] {
        return stage_.viewer.desk().answers().analysis().balance.gravity_torque_peak_n_m;
    };
    const double before = lift();
    stage_.click("Trim");
    ASSERT_EQ(stage_.load().counterweights.size(), 1U) << stage_.screen();
    EXPECT_TRUE(stage_.load().roll_tests[0].counts) << "the weight came after the test";
    EXPECT_TRUE(stage_.says("Added: "));
    EXPECT_LT(std::cos(stage_.load().counterweights[0].clock_rad), -0.7) << "opposite the heavy side";
    EXPECT_LT(lift(), 0.5 * before);
    stage_.key(Key::z, {.control = true});
    EXPECT_TRUE(stage_.load().counterweights.empty());

    stage_.click("Findings");
    stage_.key(Key::tab);
    stage_.key(Key::right);
    EXPECT_FALSE(stage_.load().roll_tests[0].counts);
    stage_.click("Roll");
    EXPECT_TRUE(stage_.says("It counts no more: roast was moved since. Roll the load again."))
        << stage_.screen();
    stage_.key(Key::z, {.control = true});
    stage_.key(Key::z, {.control = true});
    EXPECT_TRUE(stage_.load().roll_tests.empty());
}

TEST_F(ViewerTest, PutsDownARollTestWithAWeightHungOn) {
    stage_.click("Roll");
    stage_.click("Stays anywhere");
    stage_.click("A weight was hung on");
    stage_.click("Put it down");
    EXPECT_TRUE(stage_.says("A hung weight needs a mass above zero."));
    stage_.type("weight", "100 g");
    stage_.type("its radius", "80 mm");
    stage_.type("its clock", "180 deg");
    stage_.click("On journals");
    stage_.click("Put it down");
    ASSERT_EQ(stage_.load().roll_tests.size(), 1U) << stage_.screen();
    const RollTest& test = stage_.load().roll_tests[0];
    EXPECT_FALSE(test.down_rad);
    EXPECT_EQ(test.on, RollsOn::journals);
    EXPECT_EQ(test.hung, (HungWeight{0.1, 0.08, parse_quantity("180 deg", Dimension::angle)}));
    EXPECT_TRUE(stage_.says(
        "1  Stayed wherever it was put, with 100 g hung 80 mm from the rod's middle at 9 o'clock (180°)."))
        << stage_.screen();
}

TEST_F(ViewerTest, TurnsAndTellsWhereItIs) {
    stage_.click("▶ Turn");
    EXPECT_TRUE(stage_.viewer.desk().lively());
    const int shown = stage_.system.shown();
    for (int i = 0; i < 5; ++i) {
        stage_.system.pass(0.2);
        stage_.viewer.step();
    }
    EXPECT_GE(stage_.system.shown(), shown + 5) << "it goes on being drawn";
    const double angle = stage_.viewer.desk().turn().angle_rad;
    EXPECT_GT(angle, 0.1);
    EXPECT_TRUE(stage_.says(fmt::format("at {:.0f}°", angle * 180 / pi))) << stage_.screen();
    stage_.click("■ Stop");
    stage_.click("+5°");
    const double torque = motor_torque_at(stage_.viewer.desk().answers().analysis().balance,
                                          stage_.viewer.desk().turn().angle_rad);
    EXPECT_TRUE(stage_.says("now " + Units(UnitSystem::metric).torque(torque)));
}

TEST_F(ViewerTest, DrawsOnlyOnDemand) {
    stage_.viewer.settle();
    const int shown = stage_.system.shown();
    for (int i = 0; i < 20; ++i) stage_.viewer.step();
    EXPECT_EQ(stage_.system.shown(), shown) << "nothing has happened";
    stage_.move(300, 300);
    EXPECT_GT(stage_.system.shown(), shown);
}

TEST_F(ViewerTest, OrbitsPansAndZooms) {
    const Vec3 empty = stage_.shown({0.05, 0, 0.15});
    const double azimuth = stage_.viewer.desk().camera().azimuth();
    stage_.drag(empty, empty + Vec3(60, 0, 0));
    EXPECT_LT(stage_.viewer.desk().camera().azimuth(), azimuth - 0.2);
    EXPECT_FALSE(stage_.viewer.desk().session().unsaved()) << "looking round moves nothing";
    const Vec3 target = stage_.viewer.desk().camera().target();
    stage_.drag(empty, empty + Vec3(60, 10, 0), {}, MouseButton::right);
    EXPECT_FALSE(stage_.viewer.desk().camera().target().isApprox(target));
    const double distance = stage_.viewer.desk().camera().distance();
    stage_.give(MouseWheel{0, 2});
    EXPECT_LT(stage_.viewer.desk().camera().distance(), distance);
    stage_.click("Fit");
    EXPECT_NEAR(stage_.viewer.desk().camera().distance(), distance, 0.5 * distance);
}

TEST_F(ViewerTest, OpensThroughItsOwnDialogue) {
    folder_.write("second.toml", content_of(file_));
    stage_.key(Key::o, {.control = true});
    EXPECT_TRUE(stage_.says("Open a load file or a scan"));
    EXPECT_TRUE(stage_.says("body.ply"));
    stage_.click("second.toml");
    EXPECT_EQ(stage_.viewer.desk().session().file(), folder_ / "second.toml");
    EXPECT_EQ(stage_.system.title(), "second.toml – Evenspit");
}

TEST_F(ViewerTest, AsksOnClosingWhatToDoWithChanges) {
    stage_.key(Key::tab);
    stage_.key(Key::right);
    stage_.give(CloseAsked{});
    EXPECT_TRUE(stage_.says("Not saved"));
    stage_.click("Cancel");
    EXPECT_FALSE(stage_.viewer.desk().ended());
    stage_.give(CloseAsked{});
    stage_.click("Save");
    EXPECT_TRUE(stage_.viewer.desk().ended());
    EXPECT_THAT(content_of(file_), HasSubstr("at = \"341 mm\""));
}

TEST_F(ViewerTest, ADroppedLoadIsOpened) {
    const auto second = folder_.write("second.toml", content_of(file_));
    stage_.give(FilesDropped{{second}});
    EXPECT_EQ(stage_.viewer.desk().session().file(), second);
}

TEST_F(ViewerTest, CopiesAndPastesThroughTheSystem) {
    stage_.click("Places");
    stage_.click("roast   at");
    stage_.click("at");
    stage_.key(Key::c, {.control = true});
    EXPECT_EQ(stage_.system.clipboard(), "340 mm");
    stage_.system.set_clipboard("35 cm");
    stage_.key(Key::a, {.control = true});
    stage_.key(Key::v, {.control = true});
    stage_.key(Key::enter);
    EXPECT_NEAR(seat().at_m, 0.35, 1e-12);
}

TEST(FirstScreen, ANewcomerOpensAScanShiftsTheRodAndSaves) {
    Stage stage;
    const TemporaryFolder folder;
    // A roast whose centre of mass is not where its box's middle is.
    const auto lopsided = evenspit::test::grid_mesh(64, 40, [](double u, double v) {
        const double t = pi * v, fat = 1 + 0.35 * std::sin(t) * std::cos(u);
        return Vec3(-0.15 * std::cos(t), 0.07 * fat * std::sin(t) * std::cos(u),
                    0.06 * std::sin(t) * std::sin(u));
    });
    write_mesh(folder / "roast.ply", lopsided);
    stage.viewer.desk().begin();
    stage.viewer.settle();
    EXPECT_TRUE(stage.says("Harvest supper turkey"));
    EXPECT_TRUE(stage.says("1  Press New to make a load, or drop a scan or a load file on this window."))
        << stage.screen();
    stage.give(FilesDropped{{folder / "roast.ply"}});
    EXPECT_TRUE(stage.says("How large is it?")) << stage.screen();
    EXPECT_TRUE(stage.says("metres: 300 mm × ")) << stage.screen();
    stage.click("Make a load of it");
    EXPECT_TRUE(stage.says("✔  Press New")) << stage.screen();
    stage.click("Point end");
    const Vec3 body = stage.shown({0.34, 0, 0});
    stage.click(body.x() + 35, body.y() - 20);
    ASSERT_EQ(stage.viewer.desk().selected(), (Thing{Thing::Kind::item, 0}));
    // Its origin was put at its centre of mass; shifted off, the heavy side shows.
    EXPECT_LT(stage.viewer.desk().answers().analysis().balance.gravity_torque_peak_n_m, 1e-9);
    const Vec3 end = stage.handle(Grip3d::line_to);
    stage.drag(end, end + Vec3(0, 30, 0));
    EXPECT_LT(stage.load().items[0].seat.line.to.y(), -0.005);
    EXPECT_TRUE(stage.says("heavy side, 12 o'clock (90°)")) << stage.screen();
    EXPECT_TRUE(stage.says("✔  Click the roast")) << stage.screen();
    stage.click("Save");
    stage.type("supper.toml");
    EXPECT_TRUE(std::filesystem::exists(stage.viewer.desk().session().file())) << stage.screen();
    EXPECT_TRUE(stage.says("✔  Press Save"));
    std::filesystem::remove(stage.viewer.desk().session().file());
    stage.click("Got it");
    EXPECT_FALSE(stage.says("Got it"));
}

}  // namespace
}  // namespace evenspit::viewer
