// SPDX-License-Identifier: MIT
#include "app/viewer/desk.h"

#include <algorithm>
#include <chrono>
#include <thread>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "app/viewer/scan_load.h"
#include "geometry/mesh_io.h"

namespace evenspit::viewer {
namespace {

using test::content_of;
using test::TemporaryFolder;
using test::write_sample_load;
using testing::HasSubstr;

constexpr const char* models = EVENSPIT_SOURCE_DIR "/models";

class DeskTest : public testing::Test {
  protected:
    TemporaryFolder folder_, home_;
    std::filesystem::path file_ = write_sample_load(folder_);
    Storage storage_{home_ / "settings", home_ / "state"};
    Desk desk_{{.models = models, .storage = storage_, .wake = {}, .wait_for_work = true}};
    double now_ = 0;

    void grant(Wish wish, double seconds = 0.01) {
        desk_.wish(std::move(wish));
        tick(seconds);
    }
    void tick(double seconds = 0.01) { desk_.tick(now_ += seconds); }
    void slide(double at_m) {
        Seat seat = desk_.session().assembly().items[0].seat;
        seat.at_m = at_m;
        grant(DoEdit{SetSeat{0, seat}, ""});
    }
    [[nodiscard]] double at() const { return desk_.session().assembly().items[0].seat.at_m; }
    [[nodiscard]] std::string notice() const { return desk_.notice() ? desk_.notice()->text : ""; }
    /// Another program writes the file; its time must differ for that to be seen.
    void write_outside(const std::string& text) {
        folder_.write("load.toml", text);
        std::filesystem::last_write_time(file_,
                                         std::filesystem::last_write_time(file_) + std::chrono::seconds(5));
    }
    static std::string replaced(std::string text, const std::string& from, const std::string& to) {
        return text.replace(text.find(from), from.size(), to);
    }
};

TEST_F(DeskTest, OpensAnswersAndRemembers) {
    EXPECT_FALSE(desk_.has_answer());
    grant(OpenFile{file_});
    ASSERT_TRUE(desk_.has_answer());
    EXPECT_EQ(desk_.title(), "load.toml – Evenspit");
    EXPECT_EQ(desk_.settings().recent.front(), file_);
    EXPECT_EQ(storage_.settings().recent.front(), file_);
    slide(0.35);
    EXPECT_EQ(desk_.title(), "*load.toml – Evenspit");
    EXPECT_FALSE(desk_.answers().stale());
}

TEST_F(DeskTest, TellsWhatIsWrongWithAFileAndKeepsTheLoad) {
    grant(OpenFile{file_});
    grant(OpenFile{folder_.write("bad.toml", "[rod]\nwidth = 8\n")});
    EXPECT_THAT(notice(), HasSubstr("bad.toml:2"));
    EXPECT_EQ(desk_.session().file(), file_);
    grant(OpenFile{folder_ / "none.toml"});
    EXPECT_THAT(notice(), HasSubstr("no such file"));
}

TEST_F(DeskTest, RefusesWithTheReason) {
    grant(OpenFile{file_});
    grant(DoEdit{SetFork{0, 2, Facing::point, 0}, ""});
    ASSERT_TRUE(desk_.notice());
    EXPECT_EQ(desk_.notice()->kind, Notice::Kind::refusal);
    EXPECT_THAT(notice(), HasSubstr("cannot sit at 2 m"));
    slide(0.345);
    EXPECT_FALSE(desk_.notice()) << "gone with the next thing that may be";
}

TEST_F(DeskTest, SavesWholeAndKeepsWords) {
    grant(OpenFile{file_});
    slide(parse_quantity("347 mm", Dimension::length));
    grant(Save{});
    EXPECT_THAT(content_of(file_), HasSubstr("at = \"347 mm\""));
    EXPECT_FALSE(desk_.session().unsaved());
    tick(5);
    EXPECT_FALSE(desk_.session().unsaved());
    EXPECT_EQ(at(), parse_quantity("347 mm", Dimension::length)) << "the own save is no change from outside";
}

TEST_F(DeskTest, SavesElsewhereWithPathsThatStillLead) {
    grant(OpenFile{file_});
    std::filesystem::create_directory(folder_ / "deeper");
    grant(SaveAs{folder_ / "deeper" / "copy", false});
    const std::filesystem::path copy = folder_ / "deeper" / "copy.toml";
    EXPECT_EQ(desk_.session().file(), copy);
    EXPECT_THAT(content_of(copy), HasSubstr("../body.ply"));
    grant(OpenFile{copy});
    EXPECT_EQ(notice(), "");
}

TEST_F(DeskTest, AsksBeforeWritingOver) {
    folder_.write("other.toml", "precious");
    grant(OpenFile{file_});
    grant(SaveAs{folder_ / "other.toml", false});
    EXPECT_EQ(desk_.dialog(), Dialog::overwrite);
    grant(AnswerDialog{AnswerDialog::Choice::cancel});
    EXPECT_EQ(content_of(folder_ / "other.toml"), "precious");
    grant(SaveAs{folder_ / "other.toml", false});
    grant(AnswerDialog{AnswerDialog::Choice::yes});
    EXPECT_THAT(content_of(folder_ / "other.toml"), HasSubstr("[rod]"));
}

TEST_F(DeskTest, TellsWhenItCannotSave) {
    grant(OpenFile{file_});
    grant(SaveAs{folder_ / "no" / "such" / "folder.toml", false});
    EXPECT_THAT(notice(), HasSubstr("Not saved"));
    EXPECT_EQ(desk_.session().file(), file_);
}

TEST_F(DeskTest, AsksBeforeItLetsGoOfWhatIsNotSaved) {
    grant(OpenFile{file_});
    slide(parse_quantity("350 mm", Dimension::length));
    grant(Quit{});
    EXPECT_EQ(desk_.dialog(), Dialog::unsaved);
    grant(AnswerDialog{AnswerDialog::Choice::cancel});
    EXPECT_FALSE(desk_.ended());
    grant(Quit{});
    grant(AnswerDialog{AnswerDialog::Choice::save});
    EXPECT_TRUE(desk_.ended());
    EXPECT_THAT(content_of(file_), HasSubstr("at = \"350 mm\""));
}

TEST_F(DeskTest, ThrowsAwayOnlyWhenTold) {
    grant(OpenFile{file_});
    const std::string before = content_of(file_);
    slide(0.35);
    grant(OpenFile{file_});
    EXPECT_EQ(desk_.dialog(), Dialog::unsaved);
    grant(AnswerDialog{AnswerDialog::Choice::discard});
    tick();
    EXPECT_EQ(at(), 0.34);
    EXPECT_EQ(content_of(file_), before);
    grant(Quit{});
    EXPECT_TRUE(desk_.ended()) << "nothing to ask";
}

TEST_F(DeskTest, ReadsAFileAgainThatChangedOutside) {
    grant(OpenFile{file_});
    write_outside(replaced(content_of(file_), "at = \"340 mm\"", "at = \"333 mm\""));
    tick(2);
    tick();
    EXPECT_EQ(at(), 0.333);
    slide(0.35);
    write_outside(replaced(content_of(file_), "at = \"333 mm\"", "at = \"331 mm\""));
    tick(2);
    EXPECT_EQ(desk_.dialog(), Dialog::changed_outside);
    grant(AnswerDialog{AnswerDialog::Choice::no});
    EXPECT_EQ(at(), 0.35);
    write_outside(replaced(content_of(file_), "at = \"331 mm\"", "at = \"330 mm\""));
    tick(2);
    grant(AnswerDialog{AnswerDialog::Choice::yes});
    tick();
    EXPECT_EQ(at(), 0.33);
}

TEST_F(DeskTest, TakesUpAfterACrash) {
    grant(OpenFile{file_});
    slide(0.352);
    tick(10);
    EXPECT_TRUE(storage_.unsaved(file_)) << "kept aside while it is not saved";
    EXPECT_THAT(content_of(file_), HasSubstr("340 mm")) << "the file itself is left alone";

    Desk after({.models = models, .storage = storage_, .wake = {}, .wait_for_work = true});
    after.wish(OpenFile{file_});
    after.tick(1);
    EXPECT_EQ(after.dialog(), Dialog::recover);
    after.wish(AnswerDialog{AnswerDialog::Choice::yes});
    after.tick(2);
    EXPECT_EQ(after.session().assembly().items[0].seat.at_m, 0.352);
    EXPECT_TRUE(after.session().unsaved());
    after.wish(Undo{});
    after.tick(20);
    EXPECT_FALSE(storage_.unsaved(file_)) << "what agrees with the file need not be kept";
}

TEST_F(DeskTest, ANewLoadIsTakenUpAfterACrashToo) {
    const auto scan = folder_ / "roast.ply";
    write_mesh(scan, test::ellipsoid_mesh(0.15, 0.08, 0.07, Vec3::Zero()));
    grant(DropFile{scan});
    grant(TellScan{"m", std::nullopt});
    ASSERT_TRUE(desk_.has_answer()) << notice();
    slide(0.355);
    tick(10);
    Desk after({.models = models, .storage = storage_, .wake = {}, .wait_for_work = true});
    after.begin();
    after.tick(1);
    ASSERT_TRUE(after.has_load());
    EXPECT_EQ(after.session().assembly().items[0].seat.at_m, 0.355);
    EXPECT_TRUE(after.session().file().empty());
}

TEST_F(DeskTest, ADroppedScanBecomesALoad) {
    const auto scan = folder_ / "roast.stl";
    write_mesh(scan, test::ellipsoid_mesh(150, 80, 70, Vec3::Zero()));
    grant(DropFile{scan});
    EXPECT_FALSE(desk_.has_load()) << "nobody knows how large it is";
    EXPECT_EQ(desk_.dialog(), Dialog::scan);
    ASSERT_TRUE(desk_.scan_question());
    EXPECT_TRUE(desk_.scan_question()->size.isApprox(Vec3(300, 160, 140), 1e-3));
    EXPECT_EQ(desk_.scan_question()->likely, "mm");
    grant(TellScan{"mm", 3.25});
    ASSERT_TRUE(desk_.has_answer()) << notice();
    EXPECT_EQ(desk_.dialog(), Dialog::none);
    EXPECT_NEAR(desk_.session().assembly().items[0].body->bounds.sizes().x(), 0.3, 1e-3);
    EXPECT_NEAR(desk_.session().assembly().items[0].body->mass.amount, 3.25, 1e-9);
    EXPECT_THAT(desk_.session().text(), HasSubstr("mass = \"3.25 kg\""));
    EXPECT_EQ(desk_.session().assembly().forks.size(), 2U);
    EXPECT_EQ(desk_.title(), "*new load – Evenspit");
    grant(Save{});
    EXPECT_EQ(desk_.dialog(), Dialog::save_as);
    grant(SaveAs{folder_ / "roast.toml", false});
    EXPECT_EQ(desk_.dialog(), Dialog::none);
    grant(OpenFile{folder_ / "roast.toml"});
    EXPECT_EQ(desk_.session().assembly().items[0].name, "roast");
}

TEST_F(DeskTest, ADroppedRoughScanIsClosedFirst) {
    // As scanned from above on a board: nothing was seen of its underside.
    TriangleMesh open = test::ellipsoid_mesh(0.15, 0.08, 0.07, Vec3::Zero(), 120, 90);
    std::erase_if(open.triangles, [&](const Triangle& t) {
        return (open.corner(t, 0) + open.corner(t, 1) + open.corner(t, 2)).z() / 3 < -0.05;
    });
    write_mesh(folder_ / "rough.ply", open);
    folder_.write("rough-body.ply", "taken");
    grant(DropFile{folder_ / "rough.ply"});
    ASSERT_TRUE(desk_.scan_question());
    EXPECT_EQ(desk_.scan_question()->likely, "m");
    grant(TellScan{"m", std::nullopt});
    ASSERT_TRUE(desk_.has_answer()) << notice();
    EXPECT_THAT(notice(), HasSubstr("rough-body-2.ply"));
    EXPECT_EQ(content_of(folder_ / "rough-body.ply"), "taken") << "nothing is written over";
    const double whole = 4.0 / 3 * 3.14159265 * 0.15 * 0.08 * 0.07;
    const double share = desk_.session().assembly().items[0].body->volume_m3 / whole;
    // What was cut away is 5.5 %; nobody knows whether it is there.
    EXPECT_GT(share, 0.93);
    EXPECT_LT(share, 1.03);
}

TEST_F(DeskTest, CleaningStopsWhenCancelled) {
    write_mesh(folder_ / "rough.ply", test::ellipsoid_mesh(0.15, 0.08, 0.07, Vec3::Zero(), 60, 45));
    int stages = 0;
    struct Enough {};
    EXPECT_THROW(static_cast<void>(clean_scan(folder_ / "rough.ply",
                                              [&](std::string_view) {
                                                  if (++stages == 2) throw Enough{};
                                              })),
                 Enough);
    EXPECT_FALSE(std::filesystem::exists(folder_ / "rough-body.ply"));
}

TEST_F(DeskTest, AScanThatIsNotToldOfIsLeft) {
    write_mesh(folder_ / "roast.stl", test::ellipsoid_mesh(150, 80, 70, Vec3::Zero()));
    grant(OpenFile{file_});
    grant(DropFile{folder_ / "roast.stl"});
    ASSERT_EQ(desk_.dialog(), Dialog::scan);
    grant(AnswerDialog{});
    EXPECT_EQ(desk_.dialog(), Dialog::none);
    EXPECT_FALSE(desk_.scan_question());
    EXPECT_EQ(desk_.session().file(), file_) << "the load before it stays";
}

TEST_F(DeskTest, TheEyeGlidesToWhereItIsSentAndAHandStopsIt) {
    grant(OpenFile{file_});
    grant(LookFrom{StandardView::drive_end});
    Desk aside({.models = models, .storage = {}, .wake = {}, .wait_for_work = false});
    aside.put_on_table(file_);
    aside.tick(1);
    aside.tick(1.1);
    const double first = aside.camera().azimuth();
    aside.wish(LookFrom{StandardView::drive_end});
    aside.tick(2);
    EXPECT_TRUE(aside.lively());
    EXPECT_EQ(aside.camera().azimuth(), first);
    aside.tick(2.1);
    EXPECT_LT(aside.camera().azimuth(), first) << "on its way";
    EXPECT_GT(aside.camera().azimuth(), desk_.camera().azimuth());
    aside.tick(3);
    EXPECT_FALSE(aside.lively());
    EXPECT_TRUE(aside.camera().view().isApprox(desk_.camera().view(), 1e-9));
    aside.wish(LookFrom{StandardView::above});
    aside.tick(3.01);
    aside.tick(3.1);
    aside.wish(Orbit{0.01, 0});
    aside.tick(3.2);
    EXPECT_FALSE(aside.glides());
}

TEST_F(DeskTest, LeavingWaitsForACardThatIsBeingWritten) {
    const auto card = folder_ / "card.html";
    Desk aside({.models = models, .storage = {}, .wake = {}, .wait_for_work = false});
    aside.put_on_table(file_);
    aside.tick(1);
    aside.wish(WriteCard{card, false});
    aside.tick(2);
    ASSERT_TRUE(aside.carding().running());
    aside.wish(Quit{});
    aside.tick(3);
    EXPECT_FALSE(aside.ended());
    ASSERT_TRUE(aside.notice());
    EXPECT_THAT(aside.notice()->text, HasSubstr("still being written"));
    for (int i = 0; i < 3000 && !aside.ended(); ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
        aside.tick(4 + i);
    }
    EXPECT_TRUE(aside.ended());
    EXPECT_TRUE(std::filesystem::exists(card));
}

TEST_F(DeskTest, ABadFileIsReadAgainOnceItIsMended) {
    const std::string good = content_of(file_);
    write_outside(replaced(good, "2 kg", "2 kilometres"));
    grant(OpenFile{file_});
    EXPECT_FALSE(desk_.has_load());
    EXPECT_THAT(notice(), HasSubstr("mass"));
    EXPECT_EQ(desk_.failed_file(), file_);
    tick(700);
    tick(2);
    EXPECT_FALSE(desk_.has_load()) << "nothing has changed";
    write_outside(good);
    tick(2);
    tick();
    ASSERT_TRUE(desk_.has_answer());
    EXPECT_EQ(notice(), "");
    EXPECT_TRUE(desk_.failed_file().empty());
}

TEST_F(DeskTest, AFileThatIsSpoiltLeavesTheLoadAndIsReadOnceItIsMended) {
    grant(OpenFile{file_});
    const std::string good = content_of(file_);
    write_outside(good.substr(0, good.size() / 2) + "\n[[");
    tick(2);
    tick();
    EXPECT_THAT(notice(), HasSubstr("load.toml"));
    ASSERT_TRUE(desk_.has_answer()) << "the load as it was stays on the table";
    std::string mended = replaced(good, "2 kg", "3 kg");
    folder_.write("load.toml", mended);
    std::filesystem::last_write_time(file_,
                                     std::filesystem::last_write_time(file_) + std::chrono::seconds(9));
    tick(2);
    tick();
    EXPECT_NEAR(desk_.session().assembly().items[0].body->mass.amount, 3, 1e-12);
    EXPECT_EQ(notice(), "");
}

TEST_F(DeskTest, WritesNumbersAsAPersonWould) {
    grant(OpenFile{file_});
    grant(Select{{Thing::Kind::item, 0}});
    for (int i = 0; i < 7; ++i) grant(Nudge{.along_m = 0.001, .round_rad = 3.14159265358979323846 / 180});
    EXPECT_THAT(desk_.session().text(), HasSubstr("at = \"347 mm\""));
    EXPECT_THAT(desk_.session().text(), HasSubstr("turn = \"7 deg\""));
    grant(Nudge{.along_m = 0.0254 / 32});
    EXPECT_THAT(desk_.session().text(), HasSubstr("at = \"347.79375 mm\""));
    grant(Select{{Thing::Kind::fork, 0}});
    for (int i = 0; i < 3; ++i) grant(Nudge{.along_m = -0.001});
    EXPECT_THAT(desk_.session().text(), HasSubstr("at = \"227 mm\""));
}

TEST_F(DeskTest, AddsACounterweightThatFitsAndHelps) {
    grant(OpenFile{file_});
    const auto lift = [&] { return desk_.answers().analysis().balance.gravity_torque_peak_n_m; };
    const auto stops = [&] {
        const auto& findings = desk_.answers().analysis().findings;
        return std::count_if(findings.begin(), findings.end(),
                             [](const Finding& f) { return f.level == Level::stop; });
    };
    const double before = lift();
    const auto stops_before = stops();
    grant(AddFittingWeight{});
    ASSERT_FALSE(desk_.session().assembly().counterweights.empty()) << notice();
    EXPECT_LT(lift(), 0.3 * before);
    EXPECT_LE(stops(), stops_before);
    EXPECT_EQ(desk_.selected().kind, Thing::Kind::counterweight);
    EXPECT_EQ(desk_.session().undo_name(), "add a counterweight");
    grant(Undo{});
    EXPECT_TRUE(desk_.session().assembly().counterweights.empty()) << "in one step";
}

int ghosts(const Desk& desk) {
    const auto& pieces = desk.scene().pieces;
    return static_cast<int>(std::count_if(pieces.begin(), pieces.end(),
                                          [](const Piece& p) { return p.matter == scene::Matter::ghost; }));
}

TEST_F(DeskTest, WhatWasPinnedStandsAsAGhostOnceThingsMove) {
    grant(OpenFile{file_});
    grant(Pin{});
    EXPECT_EQ(ghosts(desk_), 0) << "it sits where the load is";
    const double torque = desk_.answers().analysis().balance.gravity_torque_peak_n_m;
    slide(0.36);
    EXPECT_GT(ghosts(desk_), 0);
    ASSERT_NE(desk_.compared(), nullptr);
    EXPECT_EQ(desk_.compared()->balance.gravity_torque_peak_n_m, torque);
    grant(Unpin{});
    EXPECT_EQ(ghosts(desk_), 0);
    EXPECT_EQ(desk_.compared(), nullptr);
}

TEST_F(DeskTest, APlannedAnswerStandsAsAGhostUntilItIsTaken) {
    grant(OpenFile{file_});
    grant(ShowTab{Tab::plan});
    grant(SeekPlan{});
    tick();
    ASSERT_TRUE(desk_.planning().plan());
    ASSERT_GT(desk_.planning().plan()->answers.size(), 1U);
    grant(ShowAnswer{1});
    EXPECT_GT(ghosts(desk_), 0);
    EXPECT_EQ(desk_.compared(), &desk_.planning().plan()->answers[1].analysis);
    grant(ShowTab{Tab::findings});
    EXPECT_EQ(ghosts(desk_), 0) << "it is looked at on the plan's page";
    grant(ShowTab{Tab::plan});
    EXPECT_GT(ghosts(desk_), 0);
    grant(TakeAnswer{});
    EXPECT_EQ(ghosts(desk_), 0);
}

TEST_F(DeskTest, ADroppedFileThatIsNoScanIsToldOf) {
    grant(DropFile{folder_.write("letter.ply", "Dear cook")});
    EXPECT_THAT(notice(), HasSubstr("letter.ply"));
    EXPECT_FALSE(desk_.has_load());
}

TEST_F(DeskTest, ReadingCanBeCancelled) {
    Desk aside({.models = models, .storage = {}, .wake = {}, .wait_for_work = false});
    aside.wish(OpenDemo{});
    aside.tick(0);
    EXPECT_EQ(aside.reading(), "the demo load");
    aside.wish(CancelReading{});
    aside.wish(CancelReading{});
    aside.tick(1);
    EXPECT_EQ(aside.reading(), "");
    EXPECT_FALSE(aside.has_load());
}

TEST_F(DeskTest, PlansAndTakesAnAnswer) {
    grant(OpenFile{file_});
    grant(SeekPlan{});
    ASSERT_TRUE(desk_.planning().plan());
    const plan::Plan expected = plan::make_plan(desk_.session().assembly());
    ASSERT_EQ(desk_.planning().plan()->answers.size(), expected.answers.size());
    EXPECT_EQ(desk_.planning().shown(), expected.recommended);
    ASSERT_GT(expected.answers.size(), 1U);
    EXPECT_FALSE(desk_.session().unsaved()) << "nothing is moved until an answer is taken";
    grant(ShowAnswer{1});
    grant(TakeAnswer{});
    EXPECT_TRUE(
        same_arrangement(arrangement_of(desk_.session().assembly()), expected.answers[1].arrangement));
    EXPECT_EQ(desk_.answers().analysis().balance.gravity_torque_peak_n_m,
              expected.answers[1].analysis.balance.gravity_torque_peak_n_m);
    EXPECT_FALSE(desk_.plan_is_stale());
    grant(Undo{});
    EXPECT_FALSE(desk_.session().unsaved());
    slide(0.36);
    EXPECT_TRUE(desk_.plan_is_stale());
    grant(ShowAnswer{99});
    EXPECT_EQ(desk_.planning().shown(), 1U);
}

TEST_F(DeskTest, PlanningCanBeCancelled) {
    Desk aside({.models = models, .storage = {}, .wake = {}, .wait_for_work = false});
    aside.put_on_table(file_);
    aside.wish(SeekPlan{});
    aside.tick(0.1);
    EXPECT_TRUE(aside.planning().running() || aside.planning().plan());
    aside.wish(CancelPlan{});
    aside.wish(CancelPlan{});
    aside.tick(0.2);
    EXPECT_FALSE(aside.planning().running());
}

TEST_F(DeskTest, ChoosesOneAfterTheOther) {
    grant(OpenFile{file_});
    const auto name = [&] { return thing_name(desk_.selected(), desk_.session().assembly()); };
    grant(SelectNext{1});
    EXPECT_EQ(name(), "roast");
    grant(SelectNext{1});
    grant(SelectNext{1});
    EXPECT_EQ(name(), "fork 2");
    grant(SelectNext{1});
    EXPECT_EQ(name(), "roast");
    grant(SelectNext{-1});
    EXPECT_EQ(name(), "fork 2");
    grant(Nudge{.along_m = 0.001});
    EXPECT_NEAR(desk_.session().assembly().forks[1].at_m, 0.451, 1e-12);
}

TEST_F(DeskTest, NudgesOfOneThingAreOneStep) {
    grant(OpenFile{file_});
    grant(Select{{Thing::Kind::item, 0}});
    grant(Nudge{.along_m = 0.001});
    grant(Nudge{.along_m = 0.001});
    grant(Select{{Thing::Kind::fork, 0}});
    grant(Nudge{.along_m = 0.001});
    grant(Undo{});
    EXPECT_NEAR(desk_.session().assembly().forks[0].at_m, 0.230, 1e-12);
    EXPECT_NEAR(at(), 0.342, 1e-12);
    grant(Undo{});
    EXPECT_NEAR(at(), 0.340, 1e-12);
}

TEST_F(DeskTest, TurnsByTheClock) {
    grant(OpenFile{file_});
    grant(Play{true});
    EXPECT_TRUE(desk_.lively());
    const double before = desk_.turn().angle_rad;
    tick(1);
    EXPECT_GT(desk_.turn().angle_rad, before + 0.2);
    grant(SetTurn{1.0});
    EXPECT_FALSE(desk_.lively()) << "by hand stops it";
    tick(1);
    EXPECT_EQ(desk_.turn().angle_rad, 1.0);
}

TEST_F(DeskTest, BeginsWithTheDemoAndLaterWithTheLastLoad) {
    desk_.begin();
    tick();
    ASSERT_TRUE(desk_.has_load());
    EXPECT_EQ(desk_.session().assembly().title, "Harvest supper turkey");
    grant(OpenFile{file_});
    Settings settings = desk_.settings();
    settings.welcomed = true;
    storage_.keep(settings);
    Desk later({.models = models, .storage = storage_, .wake = {}, .wait_for_work = true});
    later.begin();
    later.tick(1);
    EXPECT_EQ(later.session().file(), file_);
}

TEST_F(DeskTest, ACounterweightThatIsGoneIsNotChosenAnyMore) {
    grant(OpenFile{file_});
    grant(DoEdit{
        AddWeight{{.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 1, .diameter_m = 0.04}}, ""});
    EXPECT_EQ(desk_.selected(), (Thing{Thing::Kind::counterweight, 0})) << "the new one is in hand";
    grant(Undo{});
    EXPECT_FALSE(movable(desk_.selected()));
}

}  // namespace
}  // namespace evenspit::viewer
