// SPDX-License-Identifier: MIT
// roast, run as the command line runs it.
#include <chrono>
#include <csignal>
#include <future>
#include <sstream>
#include <stop_token>
#include <thread>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/cli/options.h"
#include "app/cli/roast.h"
#include "app/cli/stop_signal.h"
#include "app/cli/verb.h"
#include "app/command_line.h"
#include "app/sample_load.h"
#include "app/verb_runner.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using test::complaint;
using test::content_of;
using test::Ending;
using test::run_plain;
using test::TemporaryFolder;
using test::words_of;
using test::write_sample_load;
using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

constexpr const char* cook = "\n[cook]\ncooker_temperature = \"300 degF\"\nduration = \"40 min\"\n";

TEST(RoastWords, TellCellsAndMoments) {
    EXPECT_EQ(roast_request({}), RoastRequest{});
    EXPECT_DOUBLE_EQ(RoastRequest{}.spacing_m, 0.002);
    const RoastRequest asked = roast_request(
        words_of({{"--spacing", "15 mm"}, {"--cut", "c.svg"}, {"--at", "2 h 30 min"}, {"--at", "20 min"}}));
    EXPECT_DOUBLE_EQ(asked.spacing_m, 0.015);
    EXPECT_THAT(asked.cuts_at_s.value(), ElementsAre(9000, 1200));
}

TEST(RoastWords, AreRefusedWithWhatWouldBeRight) {
    EXPECT_THAT(complaint({"roast", "a.toml", "--spacing", "0.5 mm"}),
                HasSubstr("--spacing: found '0.5 mm'; expected a length from 1 mm to 15 mm"));
    EXPECT_THAT(complaint({"roast", "a.toml", "--spacing", "16 mm"}), HasSubstr("from 1 mm to 15 mm"));
    EXPECT_THAT(complaint({"roast", "a.toml", "--spacing", "2"}), HasSubstr("--spacing"));
    EXPECT_THAT(complaint({"roast", "a.toml", "--cut", "c.svg", "--at", "2 kg"}), HasSubstr("--at"));
    EXPECT_EQ(complaint({"roast", "a.toml", "--at", "2 h"}), "--at says when --cut cuts; add --cut FILE");
    EXPECT_EQ(complaint({"roast", "a.toml", "--charts", ""}), "--charts needs the name of a file");
    EXPECT_EQ(complaint({"roast"}), "roast needs a load file: roast LOAD.toml");
    EXPECT_EQ(complaint({"roast", "a.toml", "--spacing", "1 mm"}), "no complaint");
}

TEST(RoastVerb, ALoadWithoutACookIsTurnedAway) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder);
    const Ending none = run_plain({"roast", load.string()});
    EXPECT_EQ(none.status, 2);
    EXPECT_EQ(none.out, "");
    EXPECT_EQ(none.err,
              load.string() +
                  ": cook.cooker_temperature: found no [cook]; expected how hot the cooker is held, by "
                  "its thermometer; add a line [cook], and under it cooker_temperature = \"300 degF\"\n");
    const Ending cold =
        run_plain({"roast", write_sample_load(folder, {.extra = "\n[cook]\nradiation = true\n"}).string(),
                   "-o", (folder / "out").string()});
    EXPECT_EQ(cold.status, 2);
    EXPECT_THAT(cold.err, HasSubstr("cook.cooker_temperature: found no such key"));
    EXPECT_FALSE(fs::exists(folder / "out"));
}

TEST(RoastVerb, WritesEverythingThatIsAskedFor) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder, {.extra = cook}).string();
    const auto file = [&](const char* name) { return (folder / name).string(); };
    const Ending end = run_plain({"roast", load, "--spacing", "15 mm", "--json", "-o", file("r.json"),
                                  "--charts", file("c.svg"), "--cut", file("i.svg"), "--at", "20 min", "--at",
                                  "50 min", "--skin", file("s.svg")});
    EXPECT_LE(end.status, 1) << end.err;
    EXPECT_EQ(end.out, "");
    EXPECT_EQ(end.err, "");
    const json all = json::parse(content_of(folder / "r.json"));
    EXPECT_EQ(end.status, all["verdict"] == "stop" ? 1 : 0);
    const json& roast = all["roast"];
    EXPECT_EQ(roast["spacing_m"], 0.015);
    EXPECT_EQ(roast["times_s"].back(), 2400);
    EXPECT_EQ(roast["times_s"].size(), roast["mass_kg"].size());
    EXPECT_LT(roast["mass_kg"].back(), test::sample_mass_kg);
    EXPECT_THAT(content_of(folder / "c.svg"), AllOf(StartsWith("<svg"), HasSubstr("Temperatures")));
    EXPECT_THAT(content_of(folder / "i.svg"), AllOf(StartsWith("<svg"), HasSubstr("roast, after 20 min"),
                                                    HasSubstr("roast, resting, after 50 min")));
    EXPECT_THAT(content_of(folder / "s.svg"), AllOf(StartsWith("<svg"), HasSubstr("Round the rod")));
}

TEST(RoastVerb, TellsACookWhatToDo) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder, {.extra = cook}).string();
    const Ending end = run_plain({"roast", load, "--spacing", "15 mm", "--units", "us"});
    EXPECT_LE(end.status, 1) << end.err;
    EXPECT_THAT(end.out, AllOf(HasSubstr("It comes off after 40 min, as the load file has it."),
                               HasSubstr("Temperatures"), HasSubstr("°F"), HasSubstr("Take care")));
    const Ending csv = run_plain({"roast", load, "--spacing", "15 mm", "--csv"});
    EXPECT_THAT(csv.out, AllOf(StartsWith("curve,time_s,resting,cooker_k"), HasSubstr("\nturning,0,")));
}

TEST(RoastVerb, AMomentThatTheCookDoesNotReachLeavesNoFile) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder, {.extra = cook}).string();
    const std::size_t before = folder.entries();
    const Ending end = run_plain({"roast", load, "--spacing", "15 mm", "--cut", (folder / "c.svg").string(),
                                  "--at", "5 h", "--charts", (folder / "d.svg").string()});
    EXPECT_EQ(end.status, 2);
    EXPECT_EQ(end.out, "");
    EXPECT_THAT(end.err,
                HasSubstr("--at: found 5 h; expected no more than 1 h, when cook and rest are over"));
    EXPECT_EQ(folder.entries(), before);
}

TEST(RoastVerb, NoPictureTakesThePlaceOfAnInputOrOfAnother) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder, {.extra = cook}).string();
    const std::string body = (folder / "body.ply").string(), one = (folder / "one.svg").string();
    const std::string before = content_of(body);
    for (const char* option : {"--charts", "--cut", "--skin"}) {
        const Ending over = run_plain({"roast", load, option, body});
        EXPECT_EQ(over.status, 2);
        EXPECT_THAT(over.err,
                    HasSubstr(std::string(option) + ": '" + body + "' is what the result is made from"));
        const Ending nowhere = run_plain({"roast", load, option, (folder / "none/x.svg").string()});
        EXPECT_EQ(nowhere.status, 2) << "told before anything is computed";
        EXPECT_THAT(nowhere.err, HasSubstr("expected a place where a file can be written"));
    }
    EXPECT_EQ(content_of(body), before);
    const Ending twice = run_plain({"roast", load, "--charts", one, "--skin", one});
    EXPECT_EQ(twice.status, 2);
    EXPECT_THAT(twice.err, HasSubstr("--charts and --skin both name '" + one + "'"));
    EXPECT_FALSE(fs::exists(one));
}

TEST(StopSignal, AsksWorkToStopAndPutsBackWhatWas) {
    std::signal(SIGINT, SIG_DFL);
    {
        const StopSignal stop;
        EXPECT_FALSE(stop.token().stop_requested());
        std::promise<void> asked;
        const std::stop_callback told(stop.token(), [&asked] { asked.set_value(); });
        std::raise(SIGINT);
        asked.get_future().wait();
        EXPECT_TRUE(stop.token().stop_requested());
    }
    EXPECT_EQ(std::signal(SIGINT, SIG_DFL), SIG_DFL);
    const StopSignal again;
    EXPECT_FALSE(again.token().stop_requested()) << "what was asked before is over";
}

TEST(StopSignal, IsDeafWhereCtrlCIsIgnored) {
    std::signal(SIGINT, SIG_IGN);
    {
        const StopSignal stop;
        std::raise(SIGINT);
        EXPECT_FALSE(stop.token().stop_requested());
    }
    EXPECT_EQ(std::signal(SIGINT, SIG_DFL), SIG_IGN);
}

TEST(RoastVerb, CtrlCStopsItWithoutAFile) {
    std::signal(SIGINT, SIG_DFL);
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder, {.extra = cook}).string();
    const std::size_t before = folder.entries();
    // Presses as soon as somebody listens.
    const std::jthread hand([](const std::stop_token& late) {
        struct sigaction now {};
        while (!late.stop_requested()) {
            ::sigaction(SIGINT, nullptr, &now);
            if (now.sa_handler != SIG_DFL) {
                std::raise(SIGINT);
                return;
            }
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
    });
    const Ending end = run_plain({"roast", load, "--spacing", "1 mm", "-o", (folder / "r").string(), "--skin",
                                  (folder / "s.svg").string()});
    EXPECT_EQ(end.status, 130);
    EXPECT_EQ(end.out, "");
    EXPECT_EQ(end.err, "evenspit: stopped\n");
    EXPECT_EQ(folder.entries(), before);
}

TEST(CookProgress, TellsHowLongItWillTakeAFewTimesASecond) {
    std::ostringstream err;
    Progress line(err, true);
    CookProgress progress(line);
    progress.now(0, 12000, 0);
    EXPECT_THAT(err.str(), AllOf(HasSubstr("cooking: 0 min of about 3 h 20 min"), Not(HasSubstr("left"))));
    progress.now(3000, 12000, 0.1);
    EXPECT_THAT(err.str(), Not(HasSubstr("50 min of"))) << "too soon after the last";
    progress.now(6000, 12000, 4);
    EXPECT_THAT(err.str(), HasSubstr("cooking: 1 h 40 min of about 3 h 20 min, 4 s left"));
    progress.now(12000, 12000, 4.1);
    EXPECT_THAT(err.str(), HasSubstr("checking motor, forks and clearance along the way"));
}

}  // namespace
}  // namespace evenspit
