// SPDX-License-Identifier: MIT
// Verbs that help a cook with words and keys: keys, explain.
#include <algorithm>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/cli/verbs.h"
#include "app/command_line.h"
#include "app/verb_runner.h"
#include "report/key_report.h"
#include "report/topic_words.h"
#include "support/temporary_folder.h"

namespace evenspit {
namespace {

using test::complaint;
using test::Ending;
using test::run_plain;
using testing::EndsWith;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

TEST(Keys, AreToldAsTextDataAndSchema) {
    const Ending all = run_plain({"keys"});
    EXPECT_EQ(all.status, 0);
    EXPECT_THAT(all.err, IsEmpty());
    EXPECT_EQ(all.out, keys_text({""}, {}));
    EXPECT_EQ(run_plain({"keys", "item"}).out, keys_text({"item"}, {}));
    EXPECT_EQ(run_plain({"keys", "item", "--json"}).out, keys_json({"item"}));
    EXPECT_EQ(run_plain({"keys", "--schema"}).out, load_schema());
}

TEST(Keys, ThatAreMistypedAreAnswered) {
    EXPECT_EQ(complaint({"keys", "fork.clokc"}),
              "no section or key of a load file is called 'fork.clokc'; did you mean 'fork.clock'?");
    EXPECT_EQ(complaint({"keys", "zzzzzzzzzzzz"}),
              "no section or key of a load file is called 'zzzzzzzzzzzz'; evenspit keys lists all");
    EXPECT_THAT(complaint({"keys", "--schema", "--json"}), HasSubstr("--schema is JSON already"));
    EXPECT_THAT(complaint({"keys", "--schema", "item"}), HasSubstr("take the key out"));
}

TEST(ResultSchema, KnowsEveryVerbThatGivesJson) {
    const auto schema =
        nlohmann::json::parse(test::content_of(EVENSPIT_SOURCE_DIR "/models/schemas/result.schema.json"));
    for (const Verb& verb : all_verbs()) {
        const bool gives = std::any_of(verb.words.begin(), verb.words.end(),
                                       [](const WordSpec& word) { return word.key() == "--json"; });
        EXPECT_EQ(schema["$defs"].contains(verb.name), gives) << verb.name;
    }
}

TEST(Explain, ListsTopicsOrTellsOne) {
    EXPECT_EQ(run_plain({"explain"}).out, topics_text({}));
    const Ending grip = run_plain({"explain", "grip"});
    EXPECT_EQ(grip.status, 0);
    EXPECT_THAT(grip.out, StartsWith("grip: "));
    EXPECT_EQ(run_plain({"explain", "rod", "line"}).out, run_plain({"explain", "rod-line"}).out);
    EXPECT_THAT(run_plain({"explain", "food", "--units", "us"}).out, HasSubstr("165 °F"));
}

TEST(Explain, AnswersAMistypedTopic) {
    EXPECT_EQ(complaint({"explain", "grap"}), "no topic is called 'grap'; did you mean 'grip'?");
    EXPECT_EQ(complaint({"explain", "gravy boat"}),
              "no topic is called 'gravy boat'; evenspit explain lists all");
}

}  // namespace
}  // namespace evenspit
