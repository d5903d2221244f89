"""Pure: written notes against played notes gives verdicts, live and afterwards."""
