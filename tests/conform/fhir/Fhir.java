import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.DefaultProfileValidationSupport;
import ca.uhn.fhir.validation.FhirValidator;
import ca.uhn.fhir.validation.ResultSeverityEnum;
import ca.uhn.fhir.validation.SingleValidationMessage;
import ca.uhn.fhir.validation.ValidationResult;
import java.nio.file.Files;
import java.nio.file.Path;
import org.hl7.fhir.common.hapi.validation.support.CommonCodeSystemsTerminologyService;
import org.hl7.fhir.common.hapi.validation.support.InMemoryTerminologyServerValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.ValidationSupportChain;
import org.hl7.fhir.common.hapi.validation.validator.FhirInstanceValidator;

/** Holds FHIR R4 files against the definitions of R4; prints a line for each failure or warning: file, how grave, message, place. */
public class Fhir {
  public static void main(String[] given) throws Exception {
    FhirContext context = FhirContext.forR4();
    ValidationSupportChain support =
        new ValidationSupportChain(
            new DefaultProfileValidationSupport(context),
            new CommonCodeSystemsTerminologyService(context),
            new InMemoryTerminologyServerValidationSupport(context));
    FhirValidator validator = context.newValidator();
    validator.registerValidatorModule(new FhirInstanceValidator(support));
    for (String name : given) {
      ValidationResult result = validator.validateWithResult(Files.readString(Path.of(name)));
      boolean whole = true;
      StringBuilder lines = new StringBuilder();
      for (SingleValidationMessage each : result.getMessages()) {
        if (each.getSeverity() == ResultSeverityEnum.INFORMATION) continue;
        boolean grave = each.getSeverity() != ResultSeverityEnum.WARNING;
        whole = whole && !grave;
        lines.append(
            String.join(
                    "\t", name, grave ? "error" : "warning", each.getMessage().replaceAll("\\s+", " "), each.getLocationString())
                + "\n");
      }
      System.out.print(String.join("\t", name, whole ? "ok" : "fails") + "\n" + lines);
    }
  }
}
