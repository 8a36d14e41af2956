// SPDX-License-Identifier: MIT
// What the README and the pages of the samples show is what the program prints.
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/temporary_folder.h"

namespace evenspit {
namespace {

using test::content_of;
using test::TemporaryFolder;

struct Example {
    std::string command;  // as shown, without the prompt
    std::string output;   // as shown; a line "…" stands for lines left out
};

// What stands between two marks, from place to place.
std::vector<std::string> blocks(const std::string& page, const std::string& opening) {
    const std::string closing = "```\n";
    std::vector<std::string> found;
    for (std::size_t at = page.find(opening); at != std::string::npos; at = page.find(opening, at)) {
        at += opening.size();
        const std::size_t end = page.find(closing, at);
        found.push_back(page.substr(at, end - at));
        at = end + closing.size();
    }
    return found;
}

// The commands of a page's blocks that begin with a prompt; a block may hold several.
std::vector<Example> examples(const std::string& page) {
    const std::string prompt = "$ ";
    std::vector<Example> found;
    for (const std::string& block : blocks(page, "```console\n")) {
        std::istringstream lines(block);
        for (std::string line; std::getline(lines, line);) {
            if (line.starts_with(prompt)) {
                found.push_back({line.substr(prompt.size()), ""});
            } else if (!found.empty()) {
                found.back().output += line + '\n';
            }
        }
    }
    return found;
}

// What new writes must not be there.
void make_way_for_new(const std::string& command) {
    const std::string verb = "evenspit new ";
    const std::size_t at = command.find(verb);
    if (at == std::string::npos) return;
    std::istringstream words(command.substr(at + verb.size()));
    std::string file;
    words >> file;
    std::filesystem::remove(std::filesystem::path(EVENSPIT_SOURCE_DIR) / file);
}

std::string run_shown(std::string command) {
    const std::string shown_program = "build/release/evenspit";
    EXPECT_EQ(command.find(shown_program), 0U) << command;
    make_way_for_new(command);
    command.replace(0, shown_program.size(), std::string("'") + EVENSPIT_PROGRAM + "'");
    const TemporaryFolder folder;
    const std::string file = (folder / "out").string();
    const std::string all =
        std::string("cd '") + EVENSPIT_SOURCE_DIR + "' && " + command + " >'" + file + "' 2>&1";
    const int status = std::system(all.c_str());
    EXPECT_NE(status, -1);
    return content_of(file);
}

void expect_shown(const std::string& shown, const std::string& printed) {
    const std::string gap = "…\n";
    std::size_t from = 0, place = 0;
    for (std::size_t cut = shown.find(gap);; cut = shown.find(gap, from)) {
        const std::string piece = shown.substr(from, cut == std::string::npos ? cut : cut - from);
        if (from > 0 && piece.empty()) return;  // the rest is left out
        const std::size_t at = printed.find(piece, place);
        if (at == std::string::npos || (from == 0 && at != 0)) {
            EXPECT_EQ(piece, printed.substr(place)) << "shown in the README, but not what the program prints";
            return;
        }
        place = at + piece.size();
        if (cut == std::string::npos) break;
        from = cut + gap.size();
    }
    EXPECT_EQ(printed.substr(place), "") << "printed, but not shown in the README";
}

// Runs what a page shows, in its order, and tells how many commands that were.
std::size_t expect_page_runs(const std::string& page) {
    const std::vector<Example> shown = examples(content_of(std::string(EVENSPIT_SOURCE_DIR) + "/" + page));
    for (const Example& example : shown) {
        SCOPED_TRACE(example.command);
        expect_shown(example.output, run_shown(example.command));
    }
    return shown.size();
}

TEST(Readme, ShowsWhatTheProgramPrints) {
    EXPECT_GE(expect_page_runs("README.md"), 4U) << "new, card, check and plan at least";
}

TEST(Readme, ShowsALoadFileAsItStandsInTheSamples) {
    const std::string source = EVENSPIT_SOURCE_DIR;
    EXPECT_THAT(blocks(content_of(source + "/README.md"), "```toml\n"),
                testing::Contains(content_of(source + "/samples/sunday-turkey.toml")));
}

TEST(Readme, TheSamplesShowWhatTheProgramPrints) {
    EXPECT_GE(expect_page_runs("samples/README.md"), 10U) << "each sample, a scan, a plan and comparisons";
}

TEST(Readme, TheCookIsWhatTheProgramComputes) {
    EXPECT_GE(expect_page_runs("samples/cook/README.md"), 1U) << "a roast";
}

TEST(Readme, CookersOfOnesOwnAreJudgedAsShown) {
    EXPECT_GE(expect_page_runs("samples/cookers/README.md"), 3U) << "measured, checked, on gas";
}

TEST(Readme, TheRollTestGoesFromLoadFileToTrimmed) {
    EXPECT_GE(expect_page_runs("samples/roll-test/README.md"), 4U) << "check, roll twice, check";
}

}  // namespace
}  // namespace evenspit
