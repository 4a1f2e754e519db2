import java.io.File;
import java.util.TreeMap;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.PDFAValidator;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;

/** Holds PDF files, locked or not, against one profile, such as ua1; prints a line for each failure: file, clause, test, message, place. */
public class Conform {
  public static void main(String[] given) throws Exception {
    VeraGreenfieldFoundryProvider.initialise();
    PDFAFlavour flavour = PDFAFlavour.byFlavourId(given[0]);
    String password = given[1];
    for (int i = 2; i < given.length; i += 1) {
      File file = new File(given[i]);
      try (PDFAParser parser = Foundries.defaultInstance().createParser(file, flavour, password);
          PDFAValidator validator = Foundries.defaultInstance().createValidator(flavour, false)) {
        ValidationResult result = validator.validate(parser);
        System.out.println(String.join("\t", file.getPath(), result.isCompliant() ? "ok" : "fails"));
        TreeMap<String, String> first = new TreeMap<>();
        TreeMap<String, Integer> count = new TreeMap<>();
        for (TestAssertion each : result.getTestAssertions()) {
          if (each.getStatus() != TestAssertion.Status.FAILED) continue;
          String rule = each.getRuleId().getClause() + "-" + each.getRuleId().getTestNumber();
          first.putIfAbsent(rule, each.getMessage() + "\t" + each.getLocation().getContext());
          count.merge(rule, 1, Integer::sum);
        }
        for (String rule : first.keySet())
          System.out.println(String.join("\t", file.getPath(), rule, count.get(rule) + "x", first.get(rule)));
      }
    }
  }
}
