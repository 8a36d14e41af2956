// SPDX-License-Identifier: MIT
// Verbs that help a cook with words and keys: keys.
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/command_line.h"
#include "app/sample_load.h"
#include "app/verb_runner.h"
#include "report/key_report.h"

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

}  // namespace
}  // namespace evenspit
