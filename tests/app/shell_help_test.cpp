// SPDX-License-Identifier: MIT
// The manual page, and what shells complete: read by the real man and by real shells.
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/cli/completion.h"
#include "app/cli/manual.h"
#include "app/cli/verbs.h"
#include "app/command_line.h"
#include "app/verb_runner.h"
#include "body/shape.h"
#include "report/topic_words.h"
#include "support/temporary_folder.h"

namespace evenspit {
namespace {

using test::complaint;
using test::content_of;
using test::run_plain;
using test::TemporaryFolder;
using testing::AllOf;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

/// What a command of the shell prints, both streams.
std::string output_of(const TemporaryFolder& folder, const std::string& command) {
    const std::string file = (folder / "out").string();
    const int status = std::system(
        fmt::format("cd '{}' && ( {} ) >'{}' 2>&1", folder.path().string(), command, file).c_str());
    EXPECT_EQ(status, 0) << command << ": " << content_of(file);
    return content_of(file);
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

// --- the manual page ---

TEST(Manual, IsReadByManWithoutAWarning) {
    const TemporaryFolder folder;
    const auto page = folder.write("evenspit.1", run_plain({"man"}).out);
    const std::string said = output_of(
        folder, fmt::format("MANROFFSEQ='' MANWIDTH=80 LC_ALL=C.UTF-8 man --warnings -E UTF-8 -l -Tutf8 "
                            "-Z '{}' >/dev/null",
                            page.string()));
    EXPECT_THAT(said, IsEmpty());
}

TEST(Manual, TellsEveryVerbWithItsWordsAndExample) {
    const TemporaryFolder folder;
    const auto page = folder.write("evenspit.1", manual_page(all_verbs()));
    const std::string shown = output_of(
        folder, fmt::format("MANWIDTH=200 LC_ALL=C.UTF-8 man -E UTF-8 -l '{}' | col -b", page.string()));
    for (const Verb& verb : all_verbs()) {
        SCOPED_TRACE(verb.name);
        EXPECT_THAT(shown, HasSubstr("evenspit " + verb.name));
        EXPECT_THAT(shown, HasSubstr(verb.summary));
        std::istringstream example("evenspit " + verb.example);
        for (std::string line; std::getline(example, line);)
            EXPECT_THAT(shown, HasSubstr(line.substr(line.find_first_not_of(' '))));
        for (const WordSpec& word : verb.words) {
            EXPECT_THAT(shown, HasSubstr(word.key()));
            EXPECT_THAT(shown, HasSubstr(word.about));
        }
    }
    EXPECT_THAT(shown, AllOf(HasSubstr("EVENSPIT_MODELS"), HasSubstr("A thermometer decides")));
}

// --- completion ---

/// What a shell offers behind those words; the last one is being typed.
class Completes : public testing::Test {
  protected:
    void SetUp() override {
        folder_.write("goose.toml", "");
        folder_.write("notes.txt", "");
        std::size_t shell = 0;
        for (const std::string& name : shell_names())
            folder_.write("evenspit." + name, completion_script(all_verbs(), static_cast<Shell>(shell++)));
    }

    /// \param words behind the program's name, as arrays of bash have them
    [[nodiscard]] std::vector<std::string> in_bash(const std::string& words) const {
        folder_.write("ask.bash", fmt::format("source ./evenspit.bash\nCOMP_WORDS=(evenspit {})\n"
                                              "COMP_CWORD=$((${{#COMP_WORDS[@]}} - 1))\n_evenspit\n"
                                              "for word in \"${{COMPREPLY[@]}}\"; do echo \"$word\"; done\n",
                                              words));
        return lines_of(output_of(folder_, "bash --norc ./ask.bash"));
    }
    [[nodiscard]] std::vector<std::string> in_fish(const std::string& line) const {
        folder_.write("ask.fish", fmt::format("source ./evenspit.fish\ncomplete -C 'evenspit {}'\n", line));
        std::vector<std::string> words =
            lines_of(output_of(folder_, "HOME=$PWD fish --no-config ./ask.fish"));
        for (std::string& word : words) word = word.substr(0, word.find('\t'));
        return words;
    }
    /// The shell itself types and presses the tab key, in a terminal of its own.
    [[nodiscard]] std::string in_zsh(const std::string& line) const {
        folder_.write("ask.zsh", fmt::format(R"(zmodload zsh/zpty
zpty shell zsh -f -i
zpty -w shell "PROMPT=; autoload -Uz compinit && compinit -u -D && source ./evenspit.zsh && echo rea''dy"
zpty -r shell said '*ready*'
zpty -n -w shell "{}"$'\t\t'
sleep 1
zpty -n -w shell $'\x15'"echo fini''shed"$'\n'
zpty -r shell said '*finished*'
print -r -- "$said"
zpty -d shell
)",
                                             line));
        return output_of(folder_, "TERM=dumb COLUMNS=200 zsh -f ./ask.zsh");
    }

    TemporaryFolder folder_;
};

TEST_F(Completes, VerbsAndOptionsInBash) {
    EXPECT_THAT(in_bash("ro"), ElementsAre("roast", "roll"));
    EXPECT_THAT(in_bash("''"), AllOf(Contains("check"), Contains("explain"), Contains("--version")));
    EXPECT_THAT(in_bash("check --un"), ElementsAre("--units"));
    EXPECT_THAT(in_bash("check --pick"), IsEmpty()) << "an option of another verb";
    EXPECT_THAT(in_bash("plan x.toml -"), AllOf(Contains("--pick"), Contains("-o"), Contains("--help")));
}

TEST_F(Completes, WordsOfAListInBash) {
    EXPECT_THAT(in_bash("check --units ''"), ElementsAre("metric", "us"));
    EXPECT_THAT(in_bash("check --units = u"), ElementsAre("us"));
    EXPECT_THAT(in_bash("explain gr"), ElementsAre("grip"));
    EXPECT_THAT(in_bash("keys rod.w"), ElementsAre("rod.width"));
    EXPECT_THAT(in_bash("shape leg"), ElementsAre("leg\\ of\\ lamb"));
    EXPECT_THAT(in_bash("completion ''"), ElementsAre("bash", "zsh", "fish"));
    EXPECT_THAT(in_bash("check --mountings ''"), IsEmpty()) << "a number is typed";
}

TEST_F(Completes, FilesInBash) {
    EXPECT_THAT(in_bash("check ''"), AllOf(Contains("goose.toml"), Not(Contains("notes.txt"))));
    EXPECT_THAT(in_bash("check goose.toml -o no"), ElementsAre("notes.txt"));
}

TEST_F(Completes, InFish) {
    EXPECT_THAT(in_fish("ro"), ElementsAre("roast", "roll"));
    EXPECT_THAT(in_fish("check --un"), ElementsAre("--units"));
    EXPECT_THAT(in_fish("check --units "), ElementsAre("metric", "us"));
    EXPECT_THAT(in_fish("shape leg"), ElementsAre("leg of lamb"));
    EXPECT_THAT(in_fish("explain sca"), ElementsAre("scan"));
    EXPECT_THAT(in_fish("explain scan --mas"), IsEmpty()) << "scan is no verb there";
    EXPECT_THAT(in_fish("check goo"), ElementsAre("goose.toml"));
}

TEST_F(Completes, InZsh) {
    const std::string verbs = in_zsh("evenspit ro");
    EXPECT_THAT(verbs, AllOf(HasSubstr("roast"), HasSubstr("roll"))) << verbs;
    EXPECT_THAT(in_zsh("evenspit check --mount"), HasSubstr("--mountings"));
    EXPECT_THAT(in_zsh("evenspit check --units m"), HasSubstr("metric"));
    EXPECT_THAT(in_zsh("evenspit check goo"), HasSubstr("goose.toml"));
    EXPECT_THAT(in_zsh("evenspit shape le"), HasSubstr("leg\\ of\\ lamb"));
}

TEST(Completion, NeedsAShellThatItKnows) {
    EXPECT_EQ(complaint({"completion"}), "completion needs the name of a shell: completion bash");
    EXPECT_THAT(complaint({"completion", "fihs"}), HasSubstr("did you mean 'fish'?"));
    EXPECT_EQ(run_plain({"completion", "bash"}).out, completion_script(all_verbs(), Shell::bash));
}

}  // namespace
}  // namespace evenspit
