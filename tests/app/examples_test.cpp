// SPDX-License-Identifier: MIT
// The example in each verb's help is run, by a shell, as it stands there.
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <sstream>
#include <string>
#include <sys/wait.h>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/cli/options.h"
#include "app/cli/verbs.h"
#include "support/sweep.h"
#include "support/temporary_folder.h"

namespace evenspit {
namespace {

using test::content_of;
using test::TemporaryFolder;

std::string help_of(const std::string& verb) {
    return std::get<Answer>(parse_command_line({verb, "--help"})).text;
}

class Example : public testing::TestWithParam<Verb> {
  protected:
    /// Runs it where the samples are at hand and what it writes is thrown away.
    [[nodiscard]] int run(const std::string& words) const {
        const std::string command = fmt::format("cd '{}' && '{}' {} </dev/null >out 2>err",
                                                folder_.path().string(), EVENSPIT_PROGRAM, words);
        const int status = std::system(command.c_str());
        return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    }
    [[nodiscard]] std::string said(const char* file) const { return content_of((folder_ / file).string()); }

    TemporaryFolder folder_;
};

TEST_P(Example, DoesWhatItShows) {
    const Verb& verb = GetParam();
    ASSERT_TRUE(verb.example.starts_with(verb.name));
    EXPECT_THAT(help_of(verb.name), testing::HasSubstr("Example:\n  evenspit " + verb.example + "\n"));
    std::filesystem::create_directory_symlink(EVENSPIT_SOURCE_DIR "/samples", folder_ / "samples");
    // A raw scan is nothing that a sample has.
    if (verb.name == "scan") {
        ASSERT_EQ(run("shape turkey --mass '13 lb' -o bird.ply"), 0) << said("err");
    }
    // Plans for many masses take most of a minute.
    if (verb.name == "fit" && !test::long_tests()) {
        std::istringstream words(verb.example);
        const std::vector<std::string> asked{std::istream_iterator<std::string>(words), {}};
        EXPECT_EQ(std::get<Request>(parse_command_line(asked)).inputs.size(), 1U);
        return;
    }
    EXPECT_LE(run(verb.example), 1) << said("err");
    const std::size_t output = verb.example.rfind(" -o ");
    if (output != std::string::npos) {
        EXPECT_NE(said(verb.example.substr(output + 4).c_str()), "");
    }
}

std::string name_of(const testing::TestParamInfo<Verb>& info) {
    return info.param.name;
}

INSTANTIATE_TEST_SUITE_P(OfVerbs, Example, testing::ValuesIn(all_verbs()), name_of);

}  // namespace

void PrintTo(const Verb& verb, std::ostream* out) {
    *out << verb.name;
}

}  // namespace evenspit
