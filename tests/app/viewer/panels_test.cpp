// SPDX-License-Identifier: MIT
// All panels at all sizes: no text lies over another or is cut off, and all stand out from their ground.
#include <algorithm>
#include <array>
#include <iterator>
#include <map>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "app/viewer/keys.h"
#include "app/viewer/labels.h"
#include "app/viewer/stage.h"
#include "geometry/mesh_io.h"
#include "support/sweep.h"

namespace evenspit::viewer {
namespace {

using evenspit::test::TemporaryFolder;
using evenspit::test::write_sample_load;
using test::Stage;

constexpr const char* wrong_load = EVENSPIT_SOURCE_DIR "/samples/everything-wrong.toml";

constexpr std::array<std::pair<Extent, double>, 7> sizes = {{{{960, 600}, 1},
                                                             {{1280, 720}, 1},
                                                             {{1280, 720}, 1.5},
                                                             {{1280, 720}, 2},
                                                             {{1920, 1200}, 1},
                                                             {{3840, 2160}, 2},
                                                             {{390, 844}, 1}}};

/// Large windows take long to draw without a graphics card, and have most room: long tests try them too.
std::vector<std::pair<Extent, double>> sizes_to_try() {
    std::vector<std::pair<Extent, double>> tried;
    std::copy_if(sizes.begin(), sizes.end(), std::back_inserter(tried), [](const auto& size) {
        return evenspit::test::long_tests() || size.first.width < 1280 || size.second != 1;
    });
    if (!evenspit::test::long_tests())
        std::erase_if(tried, [](const auto& size) { return size.first.width > 1280; });
    return tried;
}

std::string at_size(const Stage& stage) {
    const Extent size = stage.system.picture_size();
    return fmt::format("at {}x{}, scale {}", size.width, size.height, stage.system.scale());
}

bool is_seen(const Written& written) {
    return overlap(written.area, written.seen);
}

/// What a dialogue or a menu lies over is not read.
std::vector<Written> readable(const Stage& stage) {
    const std::vector<Written>& all = stage.viewer.ui().written();
    Layer top = Layer::scene;
    for (const Written& written : all) {
        if (written.layer == Layer::menu || written.layer == Layer::dialog)
            top = std::max(top, written.layer);
    }
    std::vector<Written> result;
    std::copy_if(all.begin(), all.end(), std::back_inserter(result), [&](const Written& written) {
        return written.layer >= top && (!written.scrolls || is_seen(written));
    });
    return result;
}

void expect_nothing_cut_off(const Stage& stage, const std::string& where) {
    constexpr double slack = 1.5;
    for (const Written& w : readable(stage)) {
        EXPECT_GE(w.area.x, w.seen.x - slack) << w.text << ", " << where;
        EXPECT_LE(w.area.x + w.area.width, w.seen.x + w.seen.width + slack) << w.text << ", " << where;
        if (w.scrolls) continue;
        EXPECT_GE(w.area.y, w.seen.y - slack) << w.text << ", " << where;
        EXPECT_LE(w.area.y + w.area.height, w.seen.y + w.seen.height + slack) << w.text << ", " << where;
    }
}

/// What of letters is drawn: where a list scrolls, its first and last line may be cut.
Area drawn_of(const Written& written) {
    if (!written.scrolls) return written.area;
    const Area &a = written.area, &s = written.seen;
    const double top = std::max(a.y, s.y), bottom = std::min(a.y + a.height, s.y + s.height);
    return {a.x, top, a.width, std::max(0.0, bottom - top)};
}

void expect_no_overlap(const Stage& stage, const std::string& where) {
    const std::vector<Written> all = readable(stage);
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t j = i + 1; j < all.size(); ++j) {
            if (all[i].layer != all[j].layer) continue;
            Area a = drawn_of(all[i]);
            // Lines of letters may touch.
            a = {a.x + 1, a.y + 1, a.width - 2, a.height - 2};
            EXPECT_FALSE(overlap(a, drawn_of(all[j])))
                << all[i].text << " and " << all[j].text << ", " << where;
        }
    }
}

void expect_in_order(const Stage& stage, const std::string& what) {
    const std::string where = what + " " + at_size(stage);
    ASSERT_GT(readable(stage).size(), 2U) << where;
    expect_nothing_cut_off(stage, where);
    expect_no_overlap(stage, where);
}

void show(Stage& stage, const Wish& wish) {
    stage.viewer.desk().wish(wish);
    stage.viewer.settle();
}

TEST(Panels, HaveNoTextThatIsCutOffOrLiesOverAnother) {
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(wrong_load);
    show(stage, Pin{});
    show(stage, DoEdit{AddRollTest{}, ""});
    for (const auto& [size, scale] : sizes_to_try()) {
        stage.system.resize(size, scale);
        for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
            // Where there is least room, in both.
            if (units == UnitSystem::us && size.width > 960 * scale) continue;
            show(stage, SetUnits{units});
            show(stage, Select{});
            for (const Tab tab : {Tab::findings, Tab::figures, Tab::roll, Tab::charts}) {
                show(stage, ShowTab{tab});
                expect_in_order(stage, fmt::format("tab {}", static_cast<int>(tab)));
            }
            for (const Thing::Kind kind :
                 {Thing::Kind::item, Thing::Kind::fork, Thing::Kind::counterweight}) {
                show(stage, ShowTab{Tab::places});
                show(stage, Select{{kind, 0}});
                expect_in_order(stage, "places");
            }
        }
        show(stage, SetUnits{UnitSystem::metric});
        for (const Dialog dialog :
             {Dialog::new_load, Dialog::open, Dialog::save_as, Dialog::help, Dialog::unsaved,
              Dialog::overwrite, Dialog::recover, Dialog::changed_outside}) {
            show(stage, ShowDialog{dialog});
            expect_in_order(stage, fmt::format("dialogue {}", static_cast<int>(dialog)));
        }
        show(stage, AnswerDialog{});
        stage.click("More");
        expect_in_order(stage, "menu");
        stage.key(Key::escape);
    }
}

TEST(Panels, OfAPlanAreInOrderToo) {
    const TemporaryFolder folder;
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(write_sample_load(folder));
    show(stage, ShowTab{Tab::plan});
    show(stage, SeekPlan{});
    ASSERT_TRUE(stage.says("★ recommended")) << stage.screen();
    for (const auto& [size, scale] : sizes_to_try()) {
        stage.system.resize(size, scale);
        stage.viewer.settle();
        expect_in_order(stage, "plan");
    }
}

TEST(Panels, OfACookAreInOrderToo) {
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(EVENSPIT_SOURCE_DIR "/samples/leg-of-lamb.toml");
    show(stage, ShowTab{Tab::cook});
    ASSERT_TRUE(stage.viewer.desk().cooking().found()) << stage.screen();
    show(stage, ShowMoment{stage.viewer.desk().cooking().found()->worst});
    show(stage, ShowColours{Colouring::temperature});
    for (const auto& [size, scale] : sizes_to_try()) {
        stage.system.resize(size, scale);
        for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
            show(stage, SetUnits{units});
            expect_in_order(stage, "cook");
        }
        show(stage, ShowTab{Tab::findings});
        expect_in_order(stage, "findings in a cook");
        show(stage, ShowTab{Tab::cook});
    }
}

/// A mesh with a hole in a format without a unit.
std::filesystem::path write_open_obj(const TemporaryFolder& folder) {
    const TriangleMesh mesh = read_mesh(folder / "body.ply").mesh;
    std::string text;
    for (const Vec3& v : mesh.vertices) text += fmt::format("v {} {} {}\n", v.x(), v.y(), v.z());
    for (std::size_t t = mesh.triangles.size() / 20; t < mesh.triangles.size(); ++t) {
        const Triangle& corners = mesh.triangles[t];
        text += fmt::format("f {} {} {}\n", corners[0] + 1, corners[1] + 1, corners[2] + 1);
    }
    return folder.write("open.obj", text);
}

TEST(Panels, ALargeChartMountingsAndQuestionsAreInOrder) {
    const TemporaryFolder folder;
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(write_sample_load(folder));
    stage.click("Sag chart");
    ASSERT_TRUE(stage.says("Smaller")) << stage.screen();
    for (const auto& [size, scale] : sizes_to_try()) {
        stage.system.resize(size, scale);
        stage.viewer.settle();
        ASSERT_TRUE(stage.says("Smaller"));
        expect_in_order(stage, "a large chart");
    }
    stage.click("Smaller");
    show(stage, ToggleCloud{});
    show(stage, PlayCloud{false});
    show(stage, DropFile{write_open_obj(folder)});
    ASSERT_TRUE(stage.says("What does it rest on in the scan?")) << stage.screen();
    for (const auto& [size, scale] : sizes_to_try()) {
        stage.system.resize(size, scale);
        show(stage, ShowDialog{Dialog::scan});
        expect_in_order(stage, "a scan's question");
        for (const Dialog dialog : {Dialog::card, Dialog::overwrite_card, Dialog::picture}) {
            show(stage, ShowDialog{dialog});
            expect_in_order(stage, "the card's question");
        }
        show(stage, ShowDialog{});
        ASSERT_TRUE(stage.says("Put away"));
        expect_in_order(stage, "mountings");
    }
}

TEST(Panels, HintsAndNoticesAreInOrder) {
    const TemporaryFolder folder;
    Stage stage;
    stage.open(write_sample_load(folder));
    for (const auto& [size, scale] : sizes_to_try()) {
        stage.system.resize(size, scale);
        show(stage, DoEdit{SetFork{0, 2, Facing::point, 0}, ""});
        EXPECT_TRUE(stage.says("That is not possible:"));
        expect_nothing_cut_off(stage, at_size(stage));
        expect_no_overlap(stage, at_size(stage));
    }
}

TEST(Panels, LabelsLieOverNoForkAndNoCounterweight) {
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(EVENSPIT_SOURCE_DIR "/samples/harvest-turkey.toml");
    for (const double turn : {0.0, 1.1, 2.2, 3.3, 4.4, 5.5}) {
        show(stage, SetTurn{turn});
        for (const Piece& piece : stage.viewer.desk().scene().pieces) {
            if (piece.thing.kind != Thing::Kind::fork) continue;
            for (const ShapeMesh::Corner& corner : piece.shape->corners) {
                const Vec3 at = stage.shown(turned_rod(turn) * piece.pose *
                                            Vec3(corner.at[0], corner.at[1], corner.at[2]));
                for (const Written& written : stage.viewer.ui().written()) {
                    if (written.layer != Layer::scene) continue;
                    ASSERT_FALSE(written.area.contains(at.x(), at.y()))
                        << written.text << " lies over fork " << piece.thing.index + 1 << " at " << turn;
                }
            }
        }
    }
}

/// The colour that most of an area has.
Rgb ground_of(const std::vector<std::uint8_t>& picture, Extent size, const Area& area) {
    std::map<std::array<int, 3>, int> seen;
    for (int y = std::max(0, int(area.y)); y < std::min(double(size.height), area.y + area.height); ++y) {
        for (int x = std::max(0, int(area.x)); x < std::min(double(size.width), area.x + area.width); ++x) {
            const auto i = (static_cast<std::size_t>(y) * static_cast<std::size_t>(size.width) +
                            static_cast<std::size_t>(x)) *
                           3;
            ++seen[{picture[i], picture[i + 1], picture[i + 2]}];
        }
    }
    const auto most = std::max_element(seen.begin(), seen.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    return most == seen.end() ? Rgb{} : Rgb{most->first[0], most->first[1], most->first[2]};
}

void expect_contrast(const Stage& stage, const std::string& where) {
    const std::vector<std::uint8_t> picture = stage.system.picture();
    for (const Written& written : readable(stage)) {
        const Area& a = written.area;
        const Area inside{std::max(a.x, written.seen.x), std::max(a.y, written.seen.y),
                          std::min(a.width, written.seen.x + written.seen.width - a.x),
                          std::min(a.height, written.seen.y + written.seen.height - a.y)};
        if (inside.width < 3 || inside.height < 3) continue;
        const Rgb ground = ground_of(picture, stage.system.picture_size(), inside);
        EXPECT_GE(contrast(written.ink, ground), least_contrast)
            << written.text << ", " << where << ": " << ground.r << " " << ground.g << " " << ground.b;
    }
}

TEST(Panels, LettersStandOutFromWhatIsUnderThem) {
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    for (const char* sample : {"everything-wrong", "harvest-turkey", "harvest-turkey-mended"}) {
        stage.open(std::string(EVENSPIT_SOURCE_DIR "/samples/") + sample + ".toml");
        show(stage, Pin{});
        for (const Theme theme : {Theme::light, Theme::dark}) {
            show(stage, SetTheme{theme});
            const std::string where = fmt::format("{}, {}", sample, theme == Theme::dark ? "dark" : "light");
            for (const Tab tab : {Tab::findings, Tab::places, Tab::figures, Tab::plan, Tab::roll}) {
                show(stage, ShowTab{tab});
                expect_contrast(stage, where);
            }
            for (const Dialog dialog : {Dialog::new_load, Dialog::open, Dialog::help, Dialog::unsaved}) {
                show(stage, ShowDialog{dialog});
                expect_contrast(stage, where + ", dialogue");
            }
            show(stage, AnswerDialog{});
            stage.click("More");
            stage.viewer.settle();
            expect_contrast(stage, where + ", menu and hint");
            stage.key(Key::escape);
        }
    }
}

TEST(Panels, ButtonsStayWhereTheyAreWhenTheyArePressed) {
    const TemporaryFolder folder;
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(write_sample_load(folder));
    const auto places = [&] {
        std::map<std::string, Area> result;
        for (const Spoken& spoken : stage.viewer.ui().spoken()) {
            if (spoken.area.y < stage.viewer.layout().bar.height ||
                stage.viewer.layout().turn.contains(spoken.area.x, spoken.area.y))
                result[spoken.text] = spoken.area;
        }
        return result;
    };
    const auto before = places();
    for (const char* name : {"Pin", "▶ Turn", "Inside", "4×"}) {
        stage.click(name);
        for (const auto& [text, area] : places()) {
            const auto was = before.find(text);
            if (was == before.end()) continue;
            EXPECT_EQ(area.x, was->second.x) << text << " after " << name;
            EXPECT_EQ(area.width, was->second.width) << text << " after " << name;
        }
    }
    EXPECT_EQ(stage.find("Unpin", true)->area.width, before.at("Pin").width);
    EXPECT_EQ(stage.find("■ Stop", true)->area.width, before.at("▶ Turn").width);
}

TEST(Panels, AHintGoesWithThePointer) {
    const TemporaryFolder folder;
    Stage stage;
    stage.viewer.desk().settings().welcomed = true;
    stage.open(write_sample_load(folder));
    const auto hints = [&] {
        const auto& all = stage.viewer.ui().written();
        return std::count_if(all.begin(), all.end(), [](const Written& w) { return w.layer == Layer::hint; });
    };
    const Area fit = stage.find("Fit", true)->area;
    stage.move(fit.x + 5, fit.y + 5);
    EXPECT_EQ(hints(), 1);
    EXPECT_TRUE(stage.says("Everything into view"));
    stage.give(PointerLeft{});
    EXPECT_EQ(hints(), 0);
    stage.move(fit.x + 5, fit.y + 5);
    stage.key(Key::f1);
    EXPECT_EQ(hints(), 0) << "behind a dialogue nothing is hovered";
}

TEST(Panels, WhatHasNoRoomInTheBarIsInItsMenu) {
    const TemporaryFolder folder;
    Stage stage({390, 844});
    stage.viewer.desk().settings().welcomed = true;
    stage.open(write_sample_load(folder));
    EXPECT_EQ(stage.find("Colours", true), nullptr);
    stage.click("More");
    stage.click("Colours");
    EXPECT_EQ(stage.viewer.desk().colouring(), Colouring::radius);
    EXPECT_EQ(stage.find("Colours", true), nullptr) << "the menu closes";
    stage.click("More");
    ASSERT_NE(stage.find("Above", true), nullptr);
    stage.click(200, 600);
    EXPECT_EQ(stage.find("Above", true), nullptr) << "a click elsewhere closes it";
}

}  // namespace
}  // namespace evenspit::viewer
