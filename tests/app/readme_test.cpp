// SPDX-License-Identifier: MIT
// What the README and the pages of the samples show is what the program prints.
#include <cstdio>
#include <cstdlib>
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

// The fenced blocks of the README that begin with a prompt.
std::vector<Example> examples(const std::string& readme) {
    const std::string opening = "```console\n$ ", closing = "```\n";
    std::vector<Example> found;
    for (std::size_t at = readme.find(opening); at != std::string::npos; at = readme.find(opening, at)) {
        at += opening.size();
        const std::size_t line_end = readme.find('\n', at), end = readme.find(closing, at);
        found.push_back({readme.substr(at, line_end - at), readme.substr(line_end + 1, end - line_end - 1)});
        at = end;
    }
    return found;
}

std::string run_shown(std::string command) {
    const std::string shown_program = "build/release/evenspit";
    EXPECT_EQ(command.find(shown_program), 0U) << command;
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
    EXPECT_GE(expect_page_runs("README.md"), 3U) << "a check, a plan and a comparison at least";
}

TEST(Readme, TheSamplesShowWhatTheProgramPrints) {
    EXPECT_GE(expect_page_runs("samples/README.md"), 10U) << "each sample, a scan, a plan and comparisons";
}

TEST(Readme, TheCookIsWhatTheProgramComputes) {
    EXPECT_GE(expect_page_runs("samples/cook/README.md"), 1U) << "a roast";
}

TEST(Readme, TheRollTestGoesFromLoadFileToTrimmed) {
    EXPECT_GE(expect_page_runs("samples/roll-test/README.md"), 4U) << "check, roll twice, check";
}

}  // namespace
}  // namespace evenspit
