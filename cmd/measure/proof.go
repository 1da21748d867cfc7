package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

// claims are what is said of loss and of intruders, each with the tests that hold
// it.
var claims = []struct{ says, pkg, tests string }{
	{"200 kills while publishing: the old site or the new one, whole", "./internal/published", "TestKills"},
	{"a full disk while publishing: the old site stays", "./internal/published", "TestFullDisk"},
	{"a disk that cannot be written", "./internal/published", "TestReadOnly"},
	{"two publishers: one goes on, one is told", "./internal/published", "TestTwoPublishers"},
	{"a host beside another publisher: it waits, and publishes what came meanwhile", "./cmd/faultleaf", "TestHostBesideAnother"},
	{"files of others, links and folders in the way: neither overwritten nor removed", "./internal/published", "TestForeignFiles|TestHostileJournal"},
	{"a site is never put among the notes, by whatever way", "./internal/site", "TestApart"},
	{"names that lead out of the site's folder: none is written", "./internal/published", "TestNames"},
	{"a page that is open goes on after a new site", "./internal/published", "TestGenerationBefore"},
	{"a record that is lost or damaged, edits, renames, removals: the same site", "./internal/site", "TestStreamEqualsFull"},
	{"the same notes twice: the same bytes", "./internal/site", "TestPublishTwice"},
	{"half of a file is never met, and none is written over another", "./internal/whole", "TestWhole"},

	{"links, devices, pipes, endless files; names that Windows cannot hold, of two lines, unseen signs, twins by case or accent", "./internal/note", "TestHostileFiles"},
	{"none of these vanishes without a word, when the shop is published or the file is inspected", "./internal/site", "TestNothingVanishes"},
	{"a folder that cannot be read: a mistake, no empty shelf", "./internal/note", "TestUnreadableFolder"},
	{"Markdown that would take minutes, tables that would fill the memory", "./internal/note", "TestHeavyMarkdown"},
	{"code that would take minutes to be coloured, or come out differently on a busy machine", "./internal/site/page", "TestCodeIsBounded"},
	{"aliases that grow, endless brackets and lines, numbers that are none; HTML, links that run something or lead elsewhere", "./internal/note", "TestHostileTexts"},
	{"signs that nobody sees are told with their place", "./internal/note", "TestUnseen"},
	{"messages are capped, and steer no terminal", "./internal/problem", "TestVisible"},
	{"whatever notes say, on the pages it is text", "./cmd/faultleaf", "TestTextsStayTexts"},
	{"no command hands on what steers a terminal", "./cmd/faultleaf", "TestNothingSteersTheTerminal"},
	{"pictures that fill memory, by their headers alone", "./internal/picture", "TestPictureBombs"},
	{"drawings that run something, reach outside, or repeat themselves for ever", "./internal/picture", "TestRefused|TestCopies"},
	{"nothing but the picture leaves a photograph", "./internal/picture", "TestNothingButThePicture"},
	{"hostile parcels from another shop", "./internal/parcel", "TestHostile"},
	{"the settings of a repository run nothing, and nothing is fetched", "./internal/history", "TestNothing|TestFetchesNothing"},
	{"what was kept of the past, where it came with a shop from elsewhere, is no order to git", "./internal/history", "TestForgedPast"},
	{"what was kept of pages, where it came from elsewhere, is not taken over", "./internal/site/record", "TestFromElsewhere"},

	{"200 kills while sheets are handed over: what was answered is kept", "./internal/inbox", "TestKilled"},
	{"a full disk while a sheet is handed over", "./internal/inbox", "TestFullDisk"},
	{"many writers at once: every fact is there", "./internal/inbox", "TestWriters|TestMergeOrder"},
	{"a backup brings everything back, a hostile one nothing", "./internal/inbox", "TestBackup|TestBackupLosesNothing|TestHostileBackup"},
	{"what was closed or taken over a year ago goes where a note or a backup holds it, and nothing else does", "./internal/inbox", "TestTidy"},
	{"files of others in the inbox hold up nothing, and every backup can be put back", "./internal/inbox", "TestForeignFilesInTheInbox"},
	{"the passphrase is kept as a hash, shown once, and cannot be guessed", "./internal/inbox", "TestPassphrase|TestDoor"},
	{"one who guesses shuts nobody out, whatever address he says he has; what is held of those who ask is bounded", "./internal/inbox", "TestGuesserShutsNobodyOut|TestReadFronts|TestTurns|TestCallersAreBounded"},
	{"jobs that were closed take neither memory nor room for years; one cut off in between is whole", "./internal/inbox", "TestClosedJobs|TestHalfClosed|TestOpenJobsAreBounded"},
	{"two hosts, a backup and a taking at one inbox", "./internal/inbox", "TestOneOwner"},
	{"other sites and forms are refused; who was not let in makes the host hold nothing large", "./internal/inbox", "TestDoor|TestStrangersSendNothingLarge"},
	{"a page that came without TLS is another's where the shop is served by it; cookies of other services shut nobody out", "./internal/inbox", "TestWhoseCookie"},
	{"screens whose network is slow hold up nobody", "./internal/inbox", "TestSlowScreens"},
	{"what the inbox answers is cached nowhere, its pass is for this host and path alone", "./internal/inbox", "TestNothingIsKeptOnTheWay"},
	{"a change is made to notes alone, and a link among them is not read", "./internal/inbox", "TestChange|TestChangeStaysInside"},

	{"nothing but the list's files is served, and none from outside, however it is spelt", "./internal/host", "TestServeStopsAndStaysInside|TestHostilePaths"},
	{"links, pipes, folders swapped in while the site is served", "./internal/host", "TestSwappedWhileServed"},
	{"other names for the host: refused, for pages, inbox and news", "./internal/host", "TestOtherNames|TestEveryAnswerIsShut"},
	{"every answer has its policy: no frames, no other origins", "./internal/host", "TestEveryAnswerIsShut"},
	{"requests inside requests: the quick lane says what http.Server says", "./internal/host", "TestLaneAsHandler|TestLaneAtRandom"},
	{"heads without end; ranges and conditions by the thousand", "./internal/host", "TestLongHeads|TestHostileRanges"},
	{"where no more connections can be open, those that only wait make room", "./internal/host", "TestLaneMakesRoom"},
	{"slow clients hold nobody up", "./internal/host", "TestSlowClients"},
	{"the host's memory is bounded", "./internal/host", "TestMemoryIsBounded"},
	{"who is being served when the host stops gets the whole file", "./internal/host", "TestStopsGracefully"},
	{"TLS with a given certificate, 1.2 at least; nothing plainly beside it", "./internal/host", "TestTLS"},
	{"a certificate that is renewed is taken up, one that cannot be used is not", "./internal/host", "TestRenewedCertificate"},
	{"by HTTP/2 one who takes back what he asked, or never ends, holds up nobody; other protocols are not spoken", "./internal/host", "TestRapidReset|TestNoUpgrade"},

	{"no binary of somebody else's is taken for the browser's", "./internal/core", "TestNoSharedCache"},

	{"a link that somebody sends brings texts and nothing else", "./internal/visit", "TestHostileLinks"},
	{"what was put into a browser's storage is text on every page", "./internal/visit", "TestHostileStorage"},
	{"workers from the pages alone, in two browsers", "./internal/visit", "TestWorkersRun|TestWorkersRunInFirefox"},
}

// proof runs them and prints a table.
func proof() error {
	fmt.Print("| what is proved | tests | outcome |\n|---|---|---|\n")
	failed := 0
	for _, c := range claims {
		cmd := exec.Command("go", "test", "-count=1", "-v", "-run", "^("+c.tests+")$", c.pkg)
		cmd.Env = append(os.Environ(), "FAULTLEAF_KILLS=200")
		out, err := cmd.CombinedOutput()
		outcome := outcomeOf(out, strings.Count(c.tests, "|")+1)
		if err != nil || outcome == "" {
			outcome = "FAILS"
			failed++
		}
		fmt.Printf("| %s | %s %s | %s |\n", c.says, strings.TrimPrefix(c.pkg, "./"), strings.ReplaceAll(c.tests, "|", ", "), outcome)
	}
	outcome := "holds"
	if err := twice(); err != nil {
		outcome = "FAILS"
		failed++
	}
	fmt.Printf("| the same commit twice: the same bytes of the program | .ci/release | %s |\n", outcome)
	if failed > 0 {
		return fmt.Errorf("%d of %d do not hold", failed, len(claims)+1)
	}
	return nil
}

// twice makes the program for this machine two times, and compares.
func twice() error {
	dir, err := os.MkdirTemp("", "measure-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	var made [2][]byte
	for i := range made {
		file := filepath.Join(dir, strconv.Itoa(i))
		if out, err := exec.Command("bash", ".ci/release", file).CombinedOutput(); err != nil {
			return fmt.Errorf("%w\n%s", err, out)
		}
		if made[i], err = os.ReadFile(file); err != nil {
			return err
		}
	}
	if !bytes.Equal(made[0], made[1]) {
		return errors.New("the same commit gives different programs")
	}
	return nil
}

// outcomeOf counts what a run of n tests says of them; "" if it says too little.
func outcomeOf(out []byte, n int) string {
	passed, skipped := 0, ""
	lines := bufio.NewScanner(bytes.NewReader(out))
	lines.Buffer(nil, 1<<24)
	for lines.Scan() {
		line := lines.Text()
		if strings.HasPrefix(line, "--- PASS") {
			passed++
		}
		if _, why, ok := strings.Cut(line, "_test.go:"); ok && skipped == "" {
			_, skipped, _ = strings.Cut(why, ": ")
		}
	}
	if bytes.Contains(out, []byte("--- SKIP")) {
		return "not tried here: " + skipped
	}
	if passed < n {
		return ""
	}
	return "holds"
}
